using Vanehour.Models.Findings;

namespace Vanehour.Scoring;

/// <summary>What became of one finding over a replay.</summary>
/// <param name="First">As it was when it first opened.</param>
/// <param name="OpenedAt">The analysis that first showed it.</param>
public sealed record FindingStory(Finding First, DateTimeOffset OpenedAt)
{
    /// <summary>The last analysis at which it was open.</summary>
    public DateTimeOffset LastOpenAt { get; init; } = OpenedAt;

    /// <summary>As it was at the last analysis at which it was open.</summary>
    public Finding Last { get; init; } = First;

    /// <summary>How many times it opened again after the data had closed it.</summary>
    public int Reopened { get; init; }

    /// <summary>Whether it is open at the end.</summary>
    public bool IsOpen { get; init; } = true;

    /// <summary>The truck.</summary>
    public string Truck => First.Truck!;
}
