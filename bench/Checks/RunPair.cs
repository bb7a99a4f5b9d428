using System.Globalization;
using Vanehour.Fleet.Runs;
using Vanehour.Simulator;

namespace Vanehour.Bench.Checks;

/// <summary>A run without dirt and the run that was made of it with dirt; either may be missing.</summary>
/// <param name="Clean">Without dirt.</param>
/// <param name="Dirty">With dirt.</param>
/// <param name="Events">What was injected into the telemetry in that time; a duplicate message is left out, it changes no sample.</param>
internal sealed record RunPair(Run? Clean, Run? Dirty, IReadOnlyList<GatewayEvent> Events)
{
    // A gateway's clock may be nine minutes wrong.
    private static readonly TimeSpan Slack = TimeSpan.FromMinutes(9.5);

    public bool IsSame => Clean is not null && Dirty is not null
        && Clean.HoursH == Dirty.HoursH && Clean.OilUsedL == Dirty.OilUsedL && Clean.VacuumMeanKPa == Dirty.VacuumMeanKPa && Clean.PumpTempMaxC == Dirty.PumpTempMaxC
        && Clean.TempRiseK == Dirty.TempRiseK && Clean.FirstPumpDown?.NetFlowPerVolumePerS == Dirty.FirstPumpDown?.NetFlowPerVolumePerS;

    public bool IsCheckInOneOnly => Clean?.FirstPumpDown?.IsStartUpCheck == true != (Dirty?.FirstPumpDown?.IsStartUpCheck == true);

    /// <summary>So far off that a reader would wonder: more than a tenth of the hours, 0.2 L of oil, 5 kPa, 10 K, or 5 % of the flow of a check.</summary>
    public bool IsFarOff => Clean is null || Dirty is null || IsCheckInOneOnly
        || Math.Abs(Dirty.HoursH - Clean.HoursH) > 0.1 * Clean.HoursH
        || Math.Abs((Dirty.OilUsedL - Clean.OilUsedL) ?? 0) > 0.2
        || Math.Abs((Dirty.VacuumMaxKPa - Clean.VacuumMaxKPa) ?? 0) > 5
        || Math.Abs((Dirty.PumpTempMaxC - Clean.PumpTempMaxC) ?? 0) > 10
        || (Clean.FirstPumpDown?.IsStartUpCheck == true && Math.Abs(Dirty.FirstPumpDown!.NetFlowPerVolumePerS / Clean.FirstPumpDown.NetFlowPerVolumePerS - 1) > 0.05);

    public string Line => string.Create(
        CultureInfo.InvariantCulture,
        $"- {Text(Clean)} -> {Text(Dirty)}; {string.Join(", ", Events.Select(e => e.Kind).Distinct())}");

    /// <summary>Pairs runs that overlap most, within what a wrong clock may shift.</summary>
    public static IEnumerable<RunPair> Of(IReadOnlyList<Run> clean, IReadOnlyList<Run> dirty, IReadOnlyList<GatewayEvent> events)
    {
        var taken = new HashSet<Run>(ReferenceEqualityComparer.Instance);
        foreach (var run in clean)
        {
            var other = dirty
                .Where(d => d.Start < run.End + Slack && d.End > run.Start - Slack && !taken.Contains(d))
                .MinBy(d => Math.Abs((d.Start - run.Start).TotalSeconds) + Math.Abs((d.End - run.End).TotalSeconds));
            if (other is not null)
            {
                taken.Add(other);
            }

            yield return new RunPair(run, other, During(run));
        }

        foreach (var run in dirty.Where(d => !taken.Contains(d)))
        {
            yield return new RunPair(null, run, During(run));
        }

        List<GatewayEvent> During(Run run) =>
            [.. events.Where(e => e.Kind != GatewayEventKind.Duplicate && e.From <= run.End && e.To >= run.Start)];
    }

    private static string Text(Run? run) => run is null ? "nothing" : string.Create(
        CultureInfo.InvariantCulture,
        $"{run.Truck} {run.Start:yyyy-MM-dd HH:mm:ss}-{run.End:HH:mm:ss} {run.HoursH:F3} h {run.OilUsedL:F3} L {run.VacuumMaxKPa:F1} kPa {run.PumpTempMaxC:F1} Cel {run.FirstPumpDown?.NetFlowPerVolumePerS:G4} {run.FirstPumpDown?.Refusal?.ToString() ?? (run.FirstPumpDown is null ? "-" : "check")} [{string.Join(' ', run.Quality.Notes)}]");
}
