using System.Collections.Immutable;
using Vanehour.Fleet;

namespace Vanehour.Models.Findings;

/// <summary>A row of the table of signs: what one cause does to the pump, whatever finding it shows by.</summary>
public sealed record KnownSigns
{
    public required Cause Cause { get; init; }

    public required ImmutableArray<ExpectedSign> Signs { get; init; }

    /// <summary>Where the row comes from.</summary>
    public required string Source { get; init; }
}
