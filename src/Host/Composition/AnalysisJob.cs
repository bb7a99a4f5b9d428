using System.Collections.Immutable;
using Microsoft.Extensions.Configuration;
using Vanehour.Host.Output;
using Vanehour.Host.Settings;
using Vanehour.Models.Analysis;
using Vanehour.Models.Findings;
using Vanehour.Models.Runs;
using Vanehour.Store;
using Vanehour.Store.Influx;
using Vanehour.Store.Rejects;
using Vanehour.Store.Telemetry;

namespace Vanehour.Host.Composition;

/// <summary>Brings runs and results of a data folder up to date, one analysis at a time.</summary>
internal sealed class AnalysisJob
{
    /// <summary>How the sentence begins that says that another analysis has the lease.</summary>
    public const string Busy = "Another analysis is at work";

    private const int NamesShown = 8;
    private const int RejectsLookedAt = 5000;

    private static readonly TimeSpan LeaseTime = TimeSpan.FromMinutes(5);
    private static readonly TimeSpan RenewEvery = TimeSpan.FromMinutes(1);

    private readonly DataFolder data;
    private readonly IConfiguration settings;
    private readonly TimeProvider time;
    private readonly Action<string> say;

    /// <param name="data">The data folder.</param>
    /// <param name="settings">Settings; the sections Analysis, Runs and Rounds are bound.</param>
    /// <param name="time">The clock.</param>
    /// <param name="say">Told what a person should know, a sentence each.</param>
    public AnalysisJob(DataFolder data, IConfiguration settings, TimeProvider time, Action<string> say)
    {
        this.say = say;
        this.data = data;
        this.settings = settings;
        this.time = time;
    }

    /// <exception cref="CommandFailedException">Another analysis is at work, the settings cannot be used, or no truck is registered.</exception>
    public async Task RunAsync(DateTimeOffset asOf, ConsoleProgress progress, CancellationToken cancellationToken)
    {
        // An analysis is kept under its millisecond; what it says of itself must be the same instant.
        asOf = DateTimeOffset.FromUnixTimeMilliseconds(asOf.ToUnixTimeMilliseconds());
        var options = SettingsFile.Bind<AnalysisOptions>(settings, "Analysis");
        if (options.Problems() is { Count: > 0 } problems)
        {
            throw new CommandFailedException("The settings section Analysis cannot be used: " + string.Join(" ", problems));
        }

        PlanJob.OptionsOf(settings);
        var rounds = RoundSettings.Read(settings);
        if (data.Register.Trucks().Count == 0)
        {
            throw new CommandFailedException("No truck is registered, so there is nothing to analyse; import the fleet with 'vanehour import'.");
        }

        var lease = data.Lease(time);
        var holder = $"{Environment.MachineName} process {Environment.ProcessId}";
        if (!lease.TryTake(holder, LeaseTime, out var current))
        {
            throw new CommandFailedException($"{Busy} ({current}); try again when it is done, or in {LeaseTime.TotalMinutes:F0} minutes if it was killed.");
        }

        // A lease that someone else could take since means that two analyses may be writing: this one stops.
        using var work = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        using var over = new CancellationTokenSource();
        var renewing = RenewAsync(lease, holder, work, over.Token);
        try
        {
            await DeriveAsync(asOf, progress, work.Token);
            var forwarding = data.Samples is IUnforwarded outbox ? await outbox.BacklogAsync(work.Token) : ForwardingBacklog.None;
            var feeds = await FeedSignsOf(asOf, work.Token);
            var snapshot = await progress.StepAsync("Fitting models", share => Task.Run(
                () => new FleetAnalysis(data.Register, data.Runs, data.Results, data.Findings, options, rounds).Analyse(
                    asOf, feeds, forwarding, new ShareOf<AnalysisProgress>(share, p => (double)p.Done / p.Of), work.Token),
                work.Token));
            if (data.Results.LatestAsOf() == asOf)
            {
                await progress.StepAsync("Planning", _ => Task.Run(() => new PlanJob(data, settings, time).Renew(snapshot), work.Token));
            }

            if (data.Remote is { } remote)
            {
                await CopyAsync(remote, asOf, work.Token);
            }
        }
        catch (OperationCanceledException) when (!cancellationToken.IsCancellationRequested)
        {
            throw new CommandFailedException("The analysis was stopped, because another one took its lease; try again when that one is done.");
        }
        finally
        {
            await over.CancelAsync();
            await renewing;
            lease.Release(holder);
        }
    }

    private async Task<IReadOnlyDictionary<string, FeedSigns>> FeedSignsOf(DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        var extents = (await data.Samples.TrucksAsync(cancellationToken)).ToDictionary(e => e.Truck, StringComparer.Ordinal);
        var clock = (await data.Rejects.ReadAsync(RejectsLookedAt, cancellationToken))
            .Where(r => r.Reject.Reason is RejectReason.InFuture or RejectReason.TooOld && r.LastArrivedMs > asOf.AddDays(-7).ToUnixTimeMilliseconds())
            .ToList();
        return data.Register.Trucks().ToDictionary(
            t => t.Id,
            t =>
            {
                // Topics are settings, but a truck is a level of them whatever they are.
                var own = clock.Where(r => r.Reject.Topic.Split('/').Contains(t.Id, StringComparer.Ordinal)).ToList();
                return new FeedSigns(
                    extents.TryGetValue(t.Id, out var extent) ? DateTimeOffset.FromUnixTimeMilliseconds(extent.LastMs) : null,
                    own.Sum(r => r.Times),
                    own.Count == 0 ? null : DateTimeOffset.FromUnixTimeMilliseconds(own.Max(r => r.LastArrivedMs)));
            },
            StringComparer.Ordinal);
    }

    private static RunSettings RunSettingsOf(IConfiguration settings)
    {
        var bound = SettingsFile.Bind<RunDerivationSettings>(settings, "Runs");
        var result = new RunSettings { ReferenceVacuumKPa = bound.ReferenceVacuumKPa.ToImmutableDictionary(StringComparer.Ordinal) };
        return result.Problems().ToList() is { Count: > 0 } problems
            ? throw new CommandFailedException("The settings section Runs cannot be used: " + string.Join(" ", problems))
            : result;
    }

    // A long list of names helps nobody.
    private static string Names(IReadOnlyList<string> trucks) =>
        string.Join(", ", trucks.Take(NamesShown)) + (trucks.Count > NamesShown ? $" and {trucks.Count - NamesShown} more" : string.Empty);

    // With the samples on a server that is away, the findings must still be brought up to date: that it is away may be one of them.
    private async Task DeriveAsync(DateTimeOffset asOf, ConsoleProgress progress, CancellationToken cancellationToken)
    {
        var runSettings = RunSettingsOf(settings);
        try
        {
            if (data.Remote is { } server)
            {
                await server.CatchUpAsync(cancellationToken);
            }

            var runs = data.Remote is { } remote ? new NotedRunStore(data.Runs, remote.Copies) : data.Runs;
            var derived = await progress.StepAsync("Deriving runs", share => new RunDerivation(data.Samples, runs, data.Register, time, runSettings).DeriveAsync(
                asOf, new ShareOf<RunDerivationProgress>(share, p => (double)p.TrucksDone / p.TrucksInAll), cancellationToken));
            if (!derived.DerivedAgain.IsEmpty)
            {
                say($"Past runs of {Names(derived.DerivedAgain)} were derived again, because the register (or a rule by which runs are derived) changed.");
            }

            if (!derived.NotRegistered.IsEmpty)
            {
                say($"Heard, but not registered and so left out: {Names(derived.NotRegistered)}; register with 'vanehour import'.");
            }
        }
        catch (StoreUnavailableException e) when (data.Remote is not null)
        {
            say($"Runs could not be brought up to date, so what follows is of the runs there are. {e.Message}");
        }
    }

    // Copies are for others' dashboards: that they cannot be made is no reason to fail.
    private async Task CopyAsync(RemoteStore remote, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        try
        {
            await remote.Copies.CopyRunsAsync(data.Runs, cancellationToken);
            await remote.Copies.CopyFindingsAsync(FindingCopies.Of(new FindingBook(data.Findings).All(), asOf), cancellationToken);
        }
        catch (Exception e) when (e is InfluxException or StoreUnavailableException)
        {
            say($"Runs and findings could not be copied to the InfluxDB; the next analysis makes up for it. {e.Message}");
        }
    }

    private async Task RenewAsync(Store.Results.IAnalysisLease lease, string holder, CancellationTokenSource work, CancellationToken over)
    {
        using var timer = new PeriodicTimer(RenewEvery, time);
        try
        {
            while (await timer.WaitForNextTickAsync(over))
            {
                if (!lease.TryTake(holder, LeaseTime, out _))
                {
                    await work.CancelAsync();
                    return;
                }
            }
        }
        catch (OperationCanceledException)
        {
            // The analysis is over.
        }
        catch (StoreUnavailableException)
        {
            // Not renewed; the lease has minutes left, and the analysis itself says what is the matter with the store.
        }
    }
}
