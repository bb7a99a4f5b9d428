using Vanehour.Models.Findings;

namespace Vanehour.Bench.Checks;

/// <summary>A limit passed for a while.</summary>
internal sealed record Passing(FindingKind Kind, DateTimeOffset From, DateTimeOffset To)
{
    public double Seconds => (To - From).TotalSeconds;
}
