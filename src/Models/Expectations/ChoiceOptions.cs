using Vanehour.Models.Indicators;

namespace Vanehour.Models.Expectations;

/// <summary>How candidates are compared. The defaults are of our own.</summary>
public sealed record ChoiceOptions
{
    /// <summary>Off: always least squares, with t intervals.</summary>
    public bool Enabled { get; init; } = true;

    /// <summary>
    /// What an earlier comparison chose, by indicator: taken without comparing again, bands from the t interval. For a replay of many instants, where a comparison at each would
    /// take most of the time.
    /// </summary>
    public IReadOnlyDictionary<Indicator, CandidateKind> Taken { get; init; } = new Dictionary<Indicator, CandidateKind>();

    /// <summary>With fewer trucks there is no choice: a standard error over fewer says little.</summary>
    public int FewestTrucks { get; init; } = 6;

    /// <summary>With fewer runs there is no choice.</summary>
    public int FewestRuns { get; init; } = 600;

    /// <summary>Groups of trucks, each held out in turn.</summary>
    public int Folds { get; init; } = 3;

    /// <summary>A candidate learns from at most so many runs, taken evenly.</summary>
    public int MostTrainingRuns { get; init; } = 1500;

    /// <summary>A simpler candidate is kept unless the best is better by this share of its error.</summary>
    public double LeastGain { get; init; } = 0.02;

    /// <summary>Fewest held-out runs that set a band.</summary>
    public int FewestCalibrationRuns { get; init; } = 200;

    /// <summary>Fewest trucks that they must be of.</summary>
    public int FewestCalibrationTrucks { get; init; } = 3;

    /// <summary>What is wrong with these options, in sentences; empty when nothing is.</summary>
    public IEnumerable<string> Problems()
    {
        if (FewestTrucks < 3 || FewestRuns < 100 || Folds < 2 || MostTrainingRuns < 100)
        {
            yield return "A choice needs at least 3 trucks, 100 runs, 2 folds and 100 runs to learn from.";
        }

        if (!(LeastGain is >= 0 and < 1) || FewestCalibrationRuns < 50 || FewestCalibrationTrucks < 2)
        {
            yield return "The least gain must lie from 0 to below 1; a band needs at least 50 runs of 2 trucks.";
        }
    }
}
