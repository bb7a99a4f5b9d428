using System.Collections.Frozen;
using Vanehour.Fleet;
using Vanehour.Models.Findings;
using Vanehour.Simulator;

namespace Vanehour.Scoring;

/// <summary>By what rules a finding counts as true, and a fault as one that could have been found. All of our own, fixed on the tuning seeds, before the reported ones were scored.</summary>
public static class ScoringRules
{
    /// <summary>A finding may open so long after a repair: the data of the last weeks before it count.</summary>
    public static readonly TimeSpan AfterRepair = TimeSpan.FromDays(28);

    /// <summary>A fault that had shown for less time than this at the end is not judged.</summary>
    public static readonly TimeSpan LeastTime = TimeSpan.FromDays(28);

    /// <summary>A finding on worn vanes is true so long before they reach their limit: half as much again as the lead that the finding gives.</summary>
    public static readonly TimeSpan WornBefore = TimeSpan.FromDays(84);

    /// <summary>Fading vacuum is true from this wear on.</summary>
    public const double FadingFromWear = 0.6;

    // What else a fault brings about on its pump beside the findings that the truth names for it. Vanes near their limit are true by the wear alone, whatever wore them.
    private static readonly FrozenDictionary<Cause, FindingKind[]> Secondary = new Dictionary<Cause, FindingKind[]>
    {
        [Cause.OilLineChoked] = [FindingKind.OilUseLow, FindingKind.RunningHot, FindingKind.VacuumFading, FindingKind.LeakOrBlockage],
        [Cause.OilWrongOrThinned] = [FindingKind.OilUseHigh, FindingKind.RunningHot, FindingKind.VacuumFading, FindingKind.LeakOrBlockage],
        [Cause.OilFeedHigh] = [FindingKind.OilUseHigh],
        [Cause.OilLeak] = [FindingKind.OilUseHigh],
        [Cause.CarryOver] = [FindingKind.RunningHot, FindingKind.VacuumFading, FindingKind.LeakOrBlockage, FindingKind.OilUseHigh],
        [Cause.CoolingPoor] = [FindingKind.VacuumFading, FindingKind.LeakOrBlockage, FindingKind.OilUseHigh],
        [Cause.DischargeCarboned] = [FindingKind.VacuumFading, FindingKind.LeakOrBlockage, FindingKind.PressureAboveLimit],
        [Cause.HoseLiningDischarge] = [FindingKind.VacuumFading, FindingKind.LeakOrBlockage, FindingKind.PressureAboveLimit],
        [Cause.HoseLiningInlet] = [FindingKind.VacuumFading, FindingKind.LeakOrBlockage, FindingKind.HeldAboveVacuumLimit, FindingKind.RunningHot],
        [Cause.InletFilterClogged] = [FindingKind.VacuumFading, FindingKind.LeakOrBlockage, FindingKind.HeldAboveVacuumLimit, FindingKind.RunningHot],
        [Cause.LeakTankSide] = [FindingKind.VacuumFading, FindingKind.LeakOrBlockage, FindingKind.ReliefSettingMoved, FindingKind.RunningHot],
        [Cause.ReliefLow] = [FindingKind.ReliefSettingMoved],
        [Cause.ReliefHigh] = [FindingKind.ReliefSettingMoved, FindingKind.HeldAboveVacuumLimit, FindingKind.RunningHot, FindingKind.VacuumFading],
        [Cause.ReliefStuck] = [FindingKind.ReliefSettingMoved, FindingKind.HeldAboveVacuumLimit, FindingKind.RunningHot, FindingKind.VacuumFading],
        [Cause.FloatClosesEarly] = [FindingKind.LeakOrBlockage, FindingKind.HeldAboveVacuumLimit, FindingKind.RunningHot],
        [Cause.VanesWorn] = [FindingKind.VacuumFading, FindingKind.LeakOrBlockage, FindingKind.ReliefSettingMoved, FindingKind.RunningHot],
        [Cause.VanesSticking] = [FindingKind.VacuumFading, FindingKind.LeakOrBlockage],
        [Cause.Overspeed] = [FindingKind.SpeedOutOfRange, FindingKind.RunningHot, FindingKind.OilUseHigh, FindingKind.VacuumFading],
        [Cause.Underspeed] = [FindingKind.SpeedOutOfRange, FindingKind.OilUseLow, FindingKind.VacuumFading, FindingKind.LeakOrBlockage],
        [Cause.CouplingSlip] = [FindingKind.SpeedOutOfRange, FindingKind.OilUseLow, FindingKind.VacuumFading, FindingKind.LeakOrBlockage],
        [Cause.SensorWrong] = [FindingKind.SensorStuck, FindingKind.ReliefSettingMoved, FindingKind.RunningHot, FindingKind.LeakOrBlockage, FindingKind.VacuumFading, FindingKind.HeldAboveVacuumLimit],
        [Cause.MeterReset] = [FindingKind.MeterJumped],
        [Cause.GatewaySilent] = [FindingKind.FeedSilent],
    }.ToFrozenDictionary();

    /// <summary>Whether a fault showed long enough before the end to be judged; by the truth alone, never by what was found.</summary>
    public static bool IsJudged(TruthFault fault, DateTimeOffset from, DateTimeOffset end)
    {
        ArgumentNullException.ThrowIfNull(fault);
        if (fault.Ends <= from)
        {
            return false;
        }

        // Worn vanes are due by their limit, not by the day on which they began to count as worn.
        return fault.Fault == Cause.VanesWorn ? fault.HarmAt <= end + LeastTime : fault.Onset <= end - LeastTime;
    }

    /// <summary>Whether a finding that opened at an instant may have been raised by this fault.</summary>
    public static bool CoversInstant(TruthFault fault, DateTimeOffset at)
    {
        ArgumentNullException.ThrowIfNull(fault);
        var from = fault is { Fault: Cause.VanesWorn, HarmAt: { } limit } && limit - WornBefore < fault.Onset ? limit - WornBefore : fault.Onset;
        return at >= from && at <= (fault.Ends is { } ends ? ends + AfterRepair : DateTimeOffset.MaxValue);
    }

    /// <summary>
    /// Whether a finding may have found this fault: it opened while the fault covers it. Wear has no onset, so of worn vanes one counts too that opened earlier and was still open.
    /// </summary>
    public static bool IsOpenWithin(TruthFault fault, FindingStory story)
    {
        ArgumentNullException.ThrowIfNull(fault);
        ArgumentNullException.ThrowIfNull(story);
        return CoversInstant(fault, story.OpenedAt) || (fault.Fault == Cause.VanesWorn && story.OpenedAt < fault.Onset && story.LastOpenAt >= fault.Onset);
    }

    /// <summary>Whether a finding of this kind finds the fault.</summary>
    public static bool Finds(TruthFault fault, FindingKind kind)
    {
        ArgumentNullException.ThrowIfNull(fault);
        return fault.Findings.Contains(kind.ToString());
    }

    /// <summary>Whether a fault brings a finding of this kind about, be it the one that finds it or not.</summary>
    public static bool Explains(TruthFault fault, FindingKind kind) => Finds(fault, kind) || Secondary.GetValueOrDefault(fault.Fault, []).Contains(kind);
}
