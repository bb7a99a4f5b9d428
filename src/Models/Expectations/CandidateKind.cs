namespace Vanehour.Models.Expectations;

/// <summary>The ways to learn what conditions make of an indicator, from the simplest on.</summary>
public enum CandidateKind
{
    /// <summary>Conditions say nothing: the mean of the pump model.</summary>
    PumpModelMean,

    /// <summary>Weighted least squares within pumps, for each pump model.</summary>
    LeastSquares,

    /// <summary>Microsoft.ML's stochastic dual coordinate ascent: one line for all pump models, the pump model a feature.</summary>
    Sdca,

    /// <summary>Microsoft.ML's boosted regression trees, the pump model a feature.</summary>
    FastTree,
}
