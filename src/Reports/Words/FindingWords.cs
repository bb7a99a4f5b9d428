using Vanehour.Fleet;
using Vanehour.Models.Findings;

namespace Vanehour.Reports.Words;

/// <summary>Findings in plain words.</summary>
internal static class FindingWords
{
    public static string Of(FindingKind kind) => kind switch
    {
        FindingKind.OilUseHigh => "oil use high",
        FindingKind.OilUseLow => "oil use low",
        FindingKind.RunningHot => "running hot",
        FindingKind.VacuumFading => "vacuum fading",
        FindingKind.LeakOrBlockage => "leak or blockage",
        FindingKind.VanesNearLimit => "vanes near limit",
        FindingKind.ReliefSettingMoved => "relief setting moved",
        FindingKind.HeldAboveVacuumLimit => "held above vacuum limit",
        FindingKind.PressureAboveLimit => "pressure above limit",
        FindingKind.SpeedOutOfRange => "speed out of range",
        FindingKind.CarryOver => "carry-over",
        FindingKind.FeedSilent => "feed silent",
        FindingKind.ClockWrong => "clock wrong",
        FindingKind.SensorStuck => "sensor stuck",
        FindingKind.MeterJumped => "meter jumped",
        FindingKind.RoundOverdue => "round overdue",
        FindingKind.ForwardingBehind => "forwarding behind",
        _ => kind.ToString(),
    };

    public static string Of(Urgency urgency) => urgency switch
    {
        Urgency.Stop => "Stop now",
        Urgency.Week => "This week",
        _ => "Later",
    };

    /// <summary>How many findings there are of each urgency.</summary>
    public static string Counts(IEnumerable<Finding> findings) => string.Join(", ", findings
        .GroupBy(f => f.Urgency)
        .OrderBy(g => g.Key)
        .Select(g => $"{NumberWords.Whole(g.Count())} {Count(g.Key)}"));

    /// <summary>How urgent a truck's findings are, as short as a box of figures needs it.</summary>
    public static string Urgencies(IReadOnlyCollection<Finding> findings)
    {
        if (findings.Count == 0)
        {
            return "as far as the data tell";
        }

        var first = findings.Min(f => f.Urgency);
        var most = findings.Count(f => f.Urgency == first);
        return first == Urgency.Later ? "none urgent"
            : most == findings.Count ? $"{(most == 1 ? string.Empty : "all ")}{(first == Urgency.Stop ? "to stop now" : "for this week")}"
            : $"{NumberWords.Whole(most)} {(first == Urgency.Stop ? "to stop now" : "for this week")}, {NumberWords.Whole(findings.Count - most)} other";
    }

    private static string Count(Urgency urgency) => urgency switch
    {
        Urgency.Stop => "to stop now",
        Urgency.Week => "this week",
        _ => "later",
    };

    public static string Of(Cause cause) => cause switch
    {
        Cause.OilLineChoked => "oil line choked",
        Cause.OilFeedHigh => "oil feed set high",
        Cause.OilLeak => "oil leak",
        Cause.OilWrongOrThinned => "wrong or thinned oil",
        Cause.CarryOver => "carry-over",
        Cause.InletFilterClogged => "inlet filter clogged",
        Cause.HoseLiningInlet => "inlet hose lining",
        Cause.HoseLiningDischarge => "discharge hose lining",
        Cause.LeakTankSide => "leak on the tank side",
        Cause.ReliefLow => "relief valve set low",
        Cause.ReliefHigh => "relief valve set high",
        Cause.ReliefStuck => "relief valve stuck",
        Cause.FloatClosesEarly => "float closes early",
        Cause.VanesWorn => "vanes worn",
        Cause.VanesSticking => "vanes sticking",
        Cause.DischargeCarboned => "discharge carboned",
        Cause.Overspeed => "overspeed",
        Cause.Underspeed => "underspeed",
        Cause.CouplingSlip => "coupling slip",
        Cause.CoolingPoor => "poor cooling",
        Cause.SensorWrong => "sensor wrong",
        Cause.MeterReset => "meter reset",
        Cause.GatewaySilent => "gateway silent",
        Cause.StoreUnreachable => "sample store out of reach",
        Cause.StoreRefusing => "sample store refuses",
        Cause.StoreSlow => "sample store slow",
        _ => cause.ToString(),
    };

    public static string Capital(string words) => words.Length == 0 ? words : char.ToUpperInvariant(words[0]) + words[1..];
}
