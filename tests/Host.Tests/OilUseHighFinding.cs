using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Models.Findings;

namespace Vanehour.Host.Tests;

/// <summary>An open finding to work with.</summary>
internal static class OilUseHighFinding
{
    public static Finding Make(string id, DateTimeOffset since, ImmutableArray<RankedCause>? causes = null) => new()
    {
        Id = id,
        Truck = "T1",
        PumpSerial = "P1",
        Kind = FindingKind.OilUseHigh,
        Urgency = Urgency.Week,
        Status = FindingStatus.Open,
        Since = since,
        Evidence = [new Evidence("oil use", 0.42, "L/h", 0.2, 0.3)],
        Causes = causes ?? [new RankedCause(Cause.OilLeak, 1)],
        Checks = [],
    };
}
