using System.Collections.Immutable;

namespace Vanehour.Models.Findings;

/// <summary>The part of the knowledge table about one kind of finding.</summary>
public sealed record KnownFinding
{
    public required FindingKind Kind { get; init; }

    public required Urgency Urgency { get; init; }

    /// <summary>How urgent it is once a limit of the pump model is passed; null is no different.</summary>
    public Urgency? UrgencyPastLimit { get; init; }

    public required ImmutableArray<KnownCause> Causes { get; init; }
}
