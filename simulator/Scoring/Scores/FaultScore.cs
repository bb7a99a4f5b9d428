namespace Vanehour.Scoring;

/// <summary>How well one kind of fault was found.</summary>
public sealed record FaultScore
{
    /// <summary>The cause's name; "all" for every fault together.</summary>
    public required string Fault { get; init; }

    /// <summary>How many were in the time looked at.</summary>
    public required int Injected { get; init; }

    /// <summary>How many of them showed long enough to be judged.</summary>
    public required int Judged { get; init; }

    /// <summary>How many judged ones were found.</summary>
    public required int Found { get; init; }

    /// <summary>How many judged ones were found before harm was done.</summary>
    public required int FoundBeforeHarm { get; init; }

    /// <summary>How many found ones had the true cause ranked first when the finding opened.</summary>
    public required int CauseFirst { get; init; }

    /// <summary>How many found ones had it among the first three.</summary>
    public required int CauseInFirstThree { get; init; }

    /// <summary>Median hours from the finding to harm, of those found that did harm.</summary>
    public double? MedianLeadH { get; init; }

    /// <summary>Median hours from onset to finding.</summary>
    public double? MedianDelayH { get; init; }
}
