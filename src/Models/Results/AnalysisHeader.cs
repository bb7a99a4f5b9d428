using System.Collections.Immutable;

namespace Vanehour.Models.Results;

/// <summary>What an analysis was.</summary>
public sealed record AnalysisHeader
{
    public required DateTimeOffset AsOf { get; init; }

    /// <summary>The seed of its generators.</summary>
    public required ulong Seed { get; init; }

    /// <summary>Pump lives looked at, past and running.</summary>
    public required int Pumps { get; init; }

    /// <summary>Runs looked at.</summary>
    public required int Runs { get; init; }

    /// <summary>What could not be used, in plain sentences.</summary>
    public required ImmutableArray<string> Remarks { get; init; }
}
