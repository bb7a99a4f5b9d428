using System.Collections.Immutable;
using Vanehour.Fleet;

namespace Vanehour.Simulator;

/// <summary>The kinds of finding that count as having found a cause; names as in the findings' JSON.</summary>
internal static class FindingsOf
{
    public static ImmutableArray<string> Cause(Cause cause) => cause switch
    {
        Fleet.Cause.OilFeedHigh or Fleet.Cause.OilLeak => ["OilUseHigh"],
        Fleet.Cause.OilLineChoked => ["OilUseLow", "RunningHot", "VacuumFading"],
        Fleet.Cause.CoolingPoor or Fleet.Cause.DischargeCarboned => ["RunningHot"],
        Fleet.Cause.LeakTankSide => ["LeakOrBlockage", "VacuumFading"],
        Fleet.Cause.VanesWorn => ["VanesNearLimit", "VacuumFading"],
        _ => throw new NotSupportedException($"The simulator has no physics for {cause}."),
    };
}
