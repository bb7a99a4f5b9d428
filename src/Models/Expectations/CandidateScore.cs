namespace Vanehour.Models.Expectations;

/// <summary>
/// How well a candidate predicted runs that it had not seen, of trucks and of a time that it had not seen. Each truck counts once; within a truck a
/// run counts by its hours. Errors are in the indicator's unit.
/// </summary>
public sealed record CandidateScore
{
    public required CandidateKind Kind { get; init; }

    /// <summary>Mean absolute error with the pump's own level taken from its earlier runs: the score that decides.</summary>
    public required double MeanAbsoluteError { get; init; }

    /// <summary>Its standard error over trucks.</summary>
    public required double MeanAbsoluteErrorSe { get; init; }

    /// <summary>Root mean square error, likewise.</summary>
    public required double RootMeanSquareError { get; init; }

    /// <summary>Its standard error over trucks.</summary>
    public required double RootMeanSquareErrorSe { get; init; }

    /// <summary>Mean absolute error without the own level: against the peers alone.</summary>
    public required double AgainstPeersError { get; init; }

    /// <summary>Mean over trucks of this candidate's mean absolute error less the best one's; 0 for the best.</summary>
    public required double BehindBest { get; init; }

    /// <summary>Standard error over trucks of <see cref="BehindBest"/>.</summary>
    public required double BehindBestSe { get; init; }
}
