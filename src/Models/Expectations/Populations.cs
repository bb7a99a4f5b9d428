namespace Vanehour.Models.Expectations;

/// <summary>Learns candidates.</summary>
internal static class Populations
{
    public static IPopulation Learn(CandidateKind kind, TrainingSet set, int seed, bool once = false) => kind switch
    {
        CandidateKind.PumpModelMean => new LinearPopulation(set, withSlopes: false),
        CandidateKind.LeastSquares => new LinearPopulation(set, withSlopes: true),
        _ => MlPopulation.Learn(kind, set, seed, once),
    };
}
