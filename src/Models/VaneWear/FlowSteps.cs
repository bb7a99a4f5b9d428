using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Models.ChangePoints;
using Vanehour.Models.Regression;

namespace Vanehour.Models.VaneWear;

/// <summary>Steps in the flow of a life's start-up checks, found, so that they can be told from wear.</summary>
internal sealed record FlowSteps
{
    // Jobs that can change the flow at one stroke for better or for worse.
    private static readonly ImmutableHashSet<ServiceKind> Jobs =
    [
        ServiceKind.InletFilter, ServiceKind.FloatShutoff, ServiceKind.Hose, ServiceKind.Gasket, ServiceKind.Coupling, ServiceKind.Flush,
        ServiceKind.ReliefVacuumSet, ServiceKind.GaugeCheck, ServiceKind.Inspection,
    ];

    // A record written down by the day may lie some hours before or after the checks it stands between.
    private static readonly TimeSpan RecordMargin = TimeSpan.FromDays(1);

    private const int ChecksEachSide = 10;

    // From this share on, one of flow and leak explains the step.
    private const double MostlyShare = 0.65;

    /// <summary>The checks as they were, in order.</summary>
    public required IReadOnlyList<WearCheck> Raw { get; init; }

    /// <summary>The steps in order of time, with their changes as shares of <see cref="Level"/>.</summary>
    public required ImmutableArray<FlowStep> Steps { get; init; }

    /// <summary>The flow that the steps' changes are shares of, 1/s: about that of the first checks.</summary>
    public required double Level { get; init; }

    /// <summary>Finds the steps of a life and takes them out.</summary>
    /// <param name="checks">Its start-up checks in order of time.</param>
    /// <param name="records">The truck's service records.</param>
    /// <param name="options">When a step counts.</param>
    public static FlowSteps Of(IReadOnlyList<WearCheck> checks, IEnumerable<ServiceRecord> records, WearOptions options)
    {
        if (checks.Count < options.FewestChecksForSteps)
        {
            return new FlowSteps { Raw = checks, Steps = [], Level = checks.Count == 0 ? 1 : Robust.Median(checks.Select(c => c.FlowPerS)) };
        }

        var level = Robust.Median(checks.Take(ChecksEachSide).Select(c => c.FlowPerS));
        var noise = Robust.Median(checks.Select(c => c.FlowSe)) / level;
        var series = new ChangeSeries(
            [.. checks.Select(c => c.HoursH)],
            [.. checks.Select(c => c.FlowPerS / level)],

            // Checks differ from one another by more than their own errors say; a floor keeps one that happens to fit well from ruling the row.
            [.. checks.Select(c => Math.Max(c.FlowSe / level, Math.Max(noise, options.LeastCheckError)))]);
        var found = ChangeSearch.Find(series, new ChangeSearchOptions { MattersFrom = options.StepMattersFrom })
            .Where(c => c.Kind == ChangeKind.Step)
            .ToList();
        var jobs = records.Where(r => Jobs.Contains(r.Kind)).ToList();
        return new FlowSteps { Raw = checks, Steps = [.. found.Select(c => Describe(c, checks, jobs))], Level = level };
    }

    private static FlowStep Describe(ChangePoint change, IReadOnlyList<WearCheck> checks, List<ServiceRecord> jobs)
    {
        var last = checks[change.After].Source.Start;
        var first = checks[change.After + 1].Source.Start;
        return new FlowStep(
            first,
            checks[change.After + 1].HoursH,
            change.Size,
            change.StandardError,
            NatureOf(checks, change.After),
            jobs.LastOrDefault(r => r.At >= last - RecordMargin && r.At <= first + RecordMargin)?.Kind);
    }

    // Net flow is S - C v/(p_a - v): how much of its change came from S and how much from C.
    private static FlowStepNature NatureOf(IReadOnlyList<WearCheck> checks, int after)
    {
        var before = Parts(checks.Take(after + 1).TakeLast(ChecksEachSide));
        var since = Parts(checks.Skip(after + 1).Take(ChecksEachSide));
        if (before is not var (flowBefore, leakBefore) || since is not var (flowSince, leakSince))
        {
            return FlowStepNature.Unknown;
        }

        var byFlow = flowSince - flowBefore;
        var byLeak = leakBefore - leakSince;
        var total = byFlow + byLeak;
        return total == 0 ? FlowStepNature.Unknown
            : byLeak / total >= MostlyShare ? FlowStepNature.Leak
            : byFlow / total >= MostlyShare ? FlowStepNature.Flow
            : FlowStepNature.Unknown;
    }

    private static (double Flow, double Leak)? Parts(IEnumerable<WearCheck> checks)
    {
        var known = checks.Select(c => c.Source).Where(d => d.LeakPerVolumePerS is not null).ToList();
        return known.Count < 3 ? null : (
            Robust.Median(known.Select(d => d.FlowPerVolumePerS)),
            Robust.Median(known.Select(d => d.LeakPerVolumePerS!.Value * d.ReferenceVacuumKPa / (d.AmbientKPa - d.ReferenceVacuumKPa))));
    }
}
