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
        Fleet.Cause.OilWrongOrThinned => ["OilUseHigh", "RunningHot", "VacuumFading"],
        Fleet.Cause.CarryOver => ["CarryOver", "RunningHot", "VacuumFading"],
        Fleet.Cause.CoolingPoor or Fleet.Cause.DischargeCarboned or Fleet.Cause.HoseLiningDischarge => ["RunningHot"],
        Fleet.Cause.LeakTankSide or Fleet.Cause.InletFilterClogged or Fleet.Cause.HoseLiningInlet or Fleet.Cause.VanesSticking => ["LeakOrBlockage", "VacuumFading"],
        Fleet.Cause.FloatClosesEarly => ["LeakOrBlockage"],
        Fleet.Cause.ReliefLow => ["ReliefSettingMoved"],
        Fleet.Cause.ReliefHigh or Fleet.Cause.ReliefStuck => ["ReliefSettingMoved", "HeldAboveVacuumLimit"],
        Fleet.Cause.VanesWorn => ["VanesNearLimit", "VacuumFading"],
        Fleet.Cause.Overspeed or Fleet.Cause.Underspeed => ["SpeedOutOfRange"],
        Fleet.Cause.CouplingSlip => ["SpeedOutOfRange", "VacuumFading", "LeakOrBlockage"],
        Fleet.Cause.SensorWrong => ["SensorStuck", "ReliefSettingMoved", "RunningHot", "LeakOrBlockage", "VacuumFading"],
        Fleet.Cause.MeterReset => ["MeterJumped"],
        Fleet.Cause.GatewaySilent => ["FeedSilent"],
        _ => throw new NotSupportedException($"The simulator has no physics for {cause}."),
    };
}
