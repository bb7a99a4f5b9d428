using System.Collections.Immutable;
using Vanehour.Fleet.Register;
using Vanehour.Fleet.Runs;
using Vanehour.Store.Runs;
using Vanehour.Store.Telemetry;

namespace Vanehour.Models.Runs;

/// <summary>
/// Brings stored runs up to date with stored samples, truck by truck.
/// <code>
/// touched trucks -----+-> settled run before the change -> samples from there on -> RunDeriver -> runs replaced from there on -> touch settled, basis noted
/// changed RunBasis ---+
/// </code>
/// </summary>
/// <remarks>
/// What the register said when runs were derived is kept with them (<see cref="RunBasis"/>): where it says something else now, runs are derived again from the first
/// instant on at which that matters. Runs whose samples retention has deleted are never touched.
/// A truck of which samples are still on their way to the store (<see cref="IUnforwarded"/>) is derived up to the oldest of them and stays touched.
/// A run is settled when 30 minutes of power take-off off or silence followed it. Derivation starts at the end of the last settled run that ended at least
/// 30 minutes before the earliest sample that changed, so late data reaches back as far as it must and no further, and any order of arrival gives the same runs.
/// It holds one run's samples and one truck's new runs in memory. Each truck is committed by itself; being stopped in between costs work, never data.
/// Not for use by several threads at once, and one process at a time should hold the analysis lease.
/// </remarks>
public sealed class RunDerivation
{
    // Recent start-up checks reach back so far; a run at the edge may have started a day earlier.
    private static readonly TimeSpan LookBack = TimeSpan.FromDays(CheckHistory.RecentDays + 2);
    private static readonly TimeSpan Settle = TimeSpan.FromMilliseconds(RunRules.SettleMs);

    private readonly ITelemetryStore telemetry;
    private readonly IRunStore runStore;
    private readonly IFleetRegister register;
    private readonly TimeProvider clock;
    private readonly RunSettings settings;

    // 2200-01-01: stands for all samples, and is still an instant in a store that counts nanoseconds in 64 bits.
    private const long AllSamplesMs = 7_258_118_400_000;

    // A truck derived again without having been touched has nothing to settle.
    private const long NoTouch = -1;

    // Up to where a change that must stay noted was dealt with, so that walking as-of forward does not start from the beginning each time.
    private readonly Dictionary<string, (long Revision, string Basis, long DerivedToMs)> dealtWith = new(StringComparer.Ordinal);

    /// <summary>Creates the service.</summary>
    /// <exception cref="ArgumentException">The settings are not sound; the message says what.</exception>
    public RunDerivation(ITelemetryStore telemetry, IRunStore runStore, IFleetRegister register, TimeProvider clock, RunSettings settings)
    {
        ArgumentNullException.ThrowIfNull(telemetry);
        ArgumentNullException.ThrowIfNull(runStore);
        ArgumentNullException.ThrowIfNull(register);
        ArgumentNullException.ThrowIfNull(clock);
        ArgumentNullException.ThrowIfNull(settings);
        if (settings.Problems().ToList() is { Count: > 0 } problems)
        {
            throw new ArgumentException(string.Join(' ', problems), nameof(settings));
        }

        (this.telemetry, this.runStore, this.register, this.clock, this.settings) = (telemetry, runStore, register, clock, settings);
    }

    /// <summary>Derives the runs of every registered truck whose samples changed since they were last derived, or of whose past the register says something else now.</summary>
    /// <param name="asOf">
    /// Only samples up to this instant are read; null for all. Runs stored earlier that start after it stay as they are, and a truck that has later samples stays
    /// touched, so that a later derivation goes on from there.
    /// </param>
    /// <param name="progress">Told after each truck; null for nobody.</param>
    /// <param name="cancellationToken">Stops between samples; the truck in hand is left as it was.</param>
    /// <exception cref="Store.StoreUnavailableException">The samples cannot be read now; trucks done before stay done.</exception>
    public async Task<RunDerivationResult> DeriveAsync(
        DateTimeOffset? asOf, IProgress<RunDerivationProgress>? progress, CancellationToken cancellationToken)
    {
        var touched = await telemetry.TouchedAsync(cancellationToken);
        return await DeriveAsync(Known(touched, await telemetry.TrucksAsync(cancellationToken), again: null), touched, asOf, progress, cancellationToken);
    }

    /// <summary>Derives all runs of these trucks again from their first sample on. <see cref="DeriveAsync(DateTimeOffset?, IProgress{RunDerivationProgress}?, CancellationToken)"/> does so by itself where the register changed.</summary>
    /// <param name="trucks">The trucks' ids, or null for every truck ever heard.</param>
    /// <param name="progress">Told after each truck; null for nobody.</param>
    /// <param name="cancellationToken">Stops between samples; the truck in hand is left as it was.</param>
    /// <exception cref="Store.StoreUnavailableException">The samples cannot be read now; trucks done before stay done.</exception>
    public async Task<RunDerivationResult> DeriveAgainAsync(
        IReadOnlyCollection<string>? trucks, IProgress<RunDerivationProgress>? progress, CancellationToken cancellationToken)
    {
        var touched = await telemetry.TouchedAsync(cancellationToken);
        var extents = (await telemetry.TrucksAsync(cancellationToken)).Where(e => trucks is null || trucks.Contains(e.Truck, StringComparer.Ordinal)).ToArray();
        var heard = extents.Select(e => new TouchedTruck(e.Truck, e.FirstMs, NoTouch)).ToArray();
        return await DeriveAsync(Known(touched, extents, again: long.MinValue), heard, asOf: null, progress, cancellationToken);
    }

    /// <summary>What there is to do of each registered truck, in order of id.</summary>
    private Job[] Known(IReadOnlyList<TouchedTruck> touched, IReadOnlyList<TruckExtent> extents, long? again)
    {
        var trucks = register.Trucks().ToDictionary(t => t.Id, StringComparer.Ordinal);
        var models = register.PumpModels().ToDictionary(m => m.Model, StringComparer.Ordinal);
        var touches = touched.ToDictionary(t => t.Truck, StringComparer.Ordinal);
        var jobs = new List<Job>();
        foreach (var extent in extents.Where(e => trucks.ContainsKey(e.Truck)).OrderBy(e => e.Truck, StringComparer.Ordinal))
        {
            var context = new RunContext(trucks[extent.Truck], register.ServiceRecords(extent.Truck), models, settings);
            var basis = context.Basis();
            var changedFromMs = again ?? RunBasis.FirstDifferenceMs(RunBasis.Parse(runStore.BasisOf(extent.Truck)), basis);
            var touch = touches.GetValueOrDefault(extent.Truck);
            if (touch is not null || changedFromMs is not null)
            {
                jobs.Add(new Job(context, basis.ToString(), changedFromMs, touch ?? new TouchedTruck(extent.Truck, long.MaxValue, NoTouch), extent));
            }
        }

        return [.. jobs];
    }

    private async Task<RunDerivationResult> DeriveAsync(
        Job[] jobs,
        IReadOnlyList<TouchedTruck> heard,
        DateTimeOffset? asOf,
        IProgress<RunDerivationProgress>? progress,
        CancellationToken cancellationToken)
    {
        var registered = register.Trucks().Select(t => t.Id).ToHashSet(StringComparer.Ordinal);

        // After the touches were read: what is forwarded in between is in the store by now.
        var unforwarded = telemetry is IUnforwarded outbox ? await outbox.OldestByTruckAsync(cancellationToken) : null;
        var asOfMs = asOf?.ToUnixTimeMilliseconds() ?? AllSamplesMs;
        var derived = ImmutableArray.CreateBuilder<string>();
        var again = ImmutableArray.CreateBuilder<string>();
        var (samples, written) = (0L, 0);
        for (var i = 0; i < jobs.Length; i++)
        {
            cancellationToken.ThrowIfCancellationRequested();
            var job = jobs[i];
            var untilMs = unforwarded is not null && unforwarded.TryGetValue(job.Truck, out var oldestMs) ? Math.Min(asOfMs, oldestMs - 1) : asOfMs;
            if (EarliestChange(job) <= untilMs)
            {
                var hadRuns = job.ChangedFromMs is not null && runStore.SettledAt(job.Truck) is not null;
                var (read, wrote) = await DeriveTruckAsync(job, untilMs, cancellationToken);
                samples += read;
                written += wrote;
                derived.Add(job.Truck);
                if (hadRuns)
                {
                    again.Add(job.Truck);
                }

                await SettleAsync(job, untilMs, cancellationToken);
            }

            progress?.Report(new RunDerivationProgress(job.Truck, i + 1, jobs.Length, samples));
        }

        return new RunDerivationResult
        {
            Derived = derived.ToImmutable(),
            DerivedAgain = again.ToImmutable(),
            NotRegistered = [.. heard.Select(t => t.Truck).Where(t => !registered.Contains(t)).Order(StringComparer.Ordinal)],
            SamplesRead = samples,
            RunsWritten = written,
        };
    }

    private async Task<(long Read, int Written)> DeriveTruckAsync(Job job, long asOfMs, CancellationToken cancellationToken)
    {
        var truck = job.Truck;
        var before = RunsToStand(job);
        var fromMs = before.Count > 0 ? before[^1].End.ToUnixTimeMilliseconds() : long.MinValue;
        var deriver = new RunDeriver(job.Context, before);
        var runs = new List<Run>();
        var (read, lastHeardMs) = (0L, 0L);
        var readFromMs = fromMs == long.MinValue ? 0 : fromMs - RunRules.LookBackMs;
        await foreach (var sample in telemetry.ReadAsync(truck, readFromMs, asOfMs + 1, cancellationToken).WithCancellation(cancellationToken))
        {
            read++;
            if (sample.UnixMs <= fromMs)
            {
                deriver.Remember(sample);
            }
            else
            {
                deriver.Push(sample, runs);
            }

            lastHeardMs = sample.UnixMs;
        }

        deriver.Finish(runs);
        var settledAt = SettledAt(before.Count > 0 ? before[^1] : null, runs, HorizonMs(asOfMs, lastHeardMs));
        var from = fromMs == long.MinValue ? DateTimeOffset.MinValue : DateTimeOffset.FromUnixTimeMilliseconds(fromMs);
        KeepLaterRuns(truck, asOfMs, runs);
        runStore.Replace(truck, from, runs, settledAt);
        return (read, runs.Count);
    }

    /// <summary>The runs that are not derived again, as far back as derivation looks: those before what changed, and those whose samples are gone. Empty: from the beginning.</summary>
    private IReadOnlyList<Run> RunsToStand(Job job)
    {
        var earliestMs = EarliestChange(job);
        var before = earliestMs <= 0 ? [] : RunsBefore(job.Truck, earliestMs);
        if (job.Extent.KeptFromMs <= 0)
        {
            return before;
        }

        // The run that the cut goes through has lost samples too.
        var keptFrom = DateTimeOffset.FromUnixTimeMilliseconds(Math.Min(job.Extent.KeptFromMs, AllSamplesMs));
        var lost = runStore.Read(job.Truck, Earlier(keptFrom, LookBack), keptFrom);
        if (lost.Count == 0)
        {
            lost = runStore.Read(job.Truck, to: keptFrom);
        }

        return lost.Count > 0 && (before.Count == 0 || before[^1].Start < lost[^1].Start) ? lost : before;
    }

    /// <summary>
    /// The runs up to and with the one after which derivation can start: settled, and with 30 minutes of nothing before the earliest change and the next run. Empty: from the beginning.
    /// </summary>
    private IReadOnlyList<Run> RunsBefore(string truck, long earliestMs)
    {
        if (runStore.SettledAt(truck) is not { } settledAt)
        {
            return [];
        }

        var earliest = DateTimeOffset.FromUnixTimeMilliseconds(Math.Max(earliestMs, 0));
        var near = runStore.Read(truck, Earlier(settledAt < earliest ? settledAt : earliest, LookBack));
        var index = LastStart(near, settledAt, earliest);
        if (index < 0)
        {
            near = runStore.Read(truck);
            index = LastStart(near, settledAt, earliest);
        }

        if (index < 0)
        {
            return [];
        }

        var last = near[index];
        var reach = runStore.Read(truck, Earlier(last.End, LookBack), last.End);
        return [.. reach.Where(r => r.Start <= last.Start)];
    }

    private static int LastStart(IReadOnlyList<Run> runs, DateTimeOffset settledAt, DateTimeOffset earliest)
    {
        for (var i = runs.Count - 1; i >= 0; i--)
        {
            var end = runs[i].End;
            if (end <= settledAt && earliest - end >= Settle && (i == runs.Count - 1 || runs[i + 1].Start - end >= Settle))
            {
                return i;
            }
        }

        return -1;
    }

    private static DateTimeOffset Earlier(DateTimeOffset at, TimeSpan by) => at - DateTimeOffset.MinValue > by ? at - by : DateTimeOffset.MinValue;

    private static DateTimeOffset? SettledAt(Run? before, List<Run> runs, long horizonMs)
    {
        var followedFrom = DateTimeOffset.FromUnixTimeMilliseconds(horizonMs);
        for (var i = runs.Count - 1; i >= 0; i--)
        {
            if (followedFrom - runs[i].End >= Settle)
            {
                return runs[i].End;
            }

            followedFrom = runs[i].Start;
        }

        // What derivation started from was settled already.
        return before?.End;
    }

    /// <summary>Up to when silence is known: now, or the as-of instant, or the last sample where a clock runs ahead.</summary>
    private long HorizonMs(long asOfMs, long lastHeardMs) =>
        Math.Max(lastHeardMs, Math.Min(asOfMs, clock.GetUtcNow().ToUnixTimeMilliseconds()));

    private void KeepLaterRuns(string truck, long asOfMs, List<Run> runs)
    {
        if (asOfMs < AllSamplesMs)
        {
            runs.AddRange(runStore.Read(truck, DateTimeOffset.FromUnixTimeMilliseconds(asOfMs + 1)));
        }
    }

    private long EarliestChange(Job job)
    {
        var earliestMs = Math.Min(job.Touch.EarliestMs, job.ChangedFromMs ?? long.MaxValue);
        return dealtWith.TryGetValue(job.Truck, out var done) && done.Revision == job.Touch.Revision && done.Basis == job.Basis
            ? Math.Max(earliestMs, done.DerivedToMs + 1)
            : earliestMs;
    }

    private async Task SettleAsync(Job job, long asOfMs, CancellationToken cancellationToken)
    {
        if (job.Extent.LastMs > asOfMs)
        {
            // Later runs are still those of before.
            dealtWith[job.Truck] = (job.Touch.Revision, job.Basis, asOfMs);
            return;
        }

        dealtWith.Remove(job.Truck);
        if (job.ChangedFromMs is not null)
        {
            runStore.NoteBasis(job.Truck, job.Basis);
        }

        if (job.Touch.Revision != NoTouch)
        {
            await telemetry.SettleAsync(job.Touch, cancellationToken);
        }
    }

    /// <param name="Context">What the register says of the truck.</param>
    /// <param name="Basis">As it is kept with the runs.</param>
    /// <param name="ChangedFromMs">From when on that is something else than the stored runs were derived with (Unix ms); null where it is the same.</param>
    /// <param name="Touch">The touch; one of the end of time and <see cref="NoTouch"/> where the samples are as they were.</param>
    /// <param name="Extent">What is stored of the truck.</param>
    private sealed record Job(RunContext Context, string Basis, long? ChangedFromMs, TouchedTruck Touch, TruckExtent Extent)
    {
        public string Truck => Context.Truck.Id;
    }
}
