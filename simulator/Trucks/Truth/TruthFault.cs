using System.Collections.Immutable;
using Vanehour.Fleet;

namespace Vanehour.Simulator;

/// <summary>A fault that was injected, or that wear brought.</summary>
public sealed record TruthFault
{
    public required string Truck { get; init; }

    public required string PumpSerial { get; init; }

    public required Cause Fault { get; init; }

    public required DateTimeOffset Onset { get; init; }

    /// <summary>Severity at full growth, 0..1. Of worn vanes: the wear at the end of the life or of the time simulated, at most 1.</summary>
    public required double Severity { get; init; }

    /// <summary>Whether it shortens life or can stop the truck.</summary>
    public required bool Serious { get; init; }

    /// <summary>When it had at least doubled the wear rate or the vanes had passed their limit; null where it has not, within two years past the end.</summary>
    public DateTimeOffset? HarmAt { get; init; }

    public DateTimeOffset? Ends { get; init; }

    /// <summary>The kinds of finding that count as having found it.</summary>
    public required ImmutableArray<string> Findings { get; init; }
}
