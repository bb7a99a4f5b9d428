using System.Collections.Immutable;

namespace Vanehour.Fleet.Runs;

/// <summary>How far a run's data can be trusted.</summary>
/// <param name="Samples">How many samples the run holds.</param>
/// <param name="Coverage">Share of the run's time that is covered by samples, 0..1.</param>
/// <param name="Notes">What was repaired or doubted, each once.</param>
public sealed record RunQuality(int Samples, double Coverage, ImmutableArray<RunNote> Notes)
{
    /// <inheritdoc/>
    public bool Equals(RunQuality? other) =>
        other is not null && Samples == other.Samples && Coverage.Equals(other.Coverage) && Notes.AsSpan().SequenceEqual(other.Notes.AsSpan());

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Samples, Coverage, Notes.Length);
}
