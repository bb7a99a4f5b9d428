using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Fleet.Register;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Analysis;
using Vanehour.Store.Runs;
using Vanehour.Store.Telemetry;

namespace Vanehour.Scoring;

/// <summary>A fleet's register, runs and silences, held so that it can be looked at as of any instant.</summary>
public sealed class ReplayFleet
{
    private readonly IReadOnlyList<PumpModel> models;
    private readonly IReadOnlyList<Truck> trucks;
    private readonly IReadOnlyList<ServiceRecord> records;
    private readonly Dictionary<string, IReadOnlyList<Run>> runs;
    private readonly IReadOnlyDictionary<string, IReadOnlyList<DateTimeOffset>> heard;

    /// <summary>Holds what was read.</summary>
    /// <param name="models">The pump models.</param>
    /// <param name="trucks">The trucks.</param>
    /// <param name="records">The service records.</param>
    /// <param name="runsOf">The runs of a truck in order of start.</param>
    /// <param name="heard">Instants at which a truck was heard, in order; a truck that is missing is not judged by its silence.</param>
    public ReplayFleet(
        IReadOnlyList<PumpModel> models,
        IReadOnlyList<Truck> trucks,
        IReadOnlyList<ServiceRecord> records,
        Func<string, IReadOnlyList<Run>> runsOf,
        IReadOnlyDictionary<string, IReadOnlyList<DateTimeOffset>> heard)
    {
        ArgumentNullException.ThrowIfNull(trucks);
        ArgumentNullException.ThrowIfNull(runsOf);
        this.models = models;
        this.trucks = trucks;
        this.records = records;
        this.heard = heard;
        runs = trucks.ToDictionary(t => t.Id, t => runsOf(t.Id), StringComparer.Ordinal);
    }

    /// <summary>The trucks.</summary>
    public IReadOnlyList<Truck> Trucks => trucks;

    /// <summary>The flow kept at which wear is 1, by truck with a known pump model.</summary>
    public IReadOnlyDictionary<string, double> FlowKeptLimits => trucks
        .Join(models, t => t.PumpModel, m => m.Model, (t, m) => (t.Id, m.FlowKeptLimit), StringComparer.Ordinal)
        .ToDictionary(p => p.Id, p => p.FlowKeptLimit, StringComparer.Ordinal);

    /// <summary>PTO hours of the runs of a truck that start in a stretch of time, h.</summary>
    public double HoursBetween(string truck, DateTimeOffset from, DateTimeOffset to) => runs[truck].Where(r => r.Start >= from && r.Start < to).Sum(r => r.HoursH);

    /// <summary>The start of the first run; null without any.</summary>
    public DateTimeOffset? First => runs.Values.Where(r => r.Count > 0).Select(r => (DateTimeOffset?)r[0].Start).Min();

    /// <summary>The end of the last run; null without any.</summary>
    public DateTimeOffset? Last => runs.Values.Where(r => r.Count > 0).Select(r => (DateTimeOffset?)r[^1].End).Max();

    /// <summary>Reads a fleet from its stores. Cost: one pass through the runs and, for the silences, one through the samples.</summary>
    public static async Task<ReplayFleet> ReadAsync(IFleetRegister register, IRunStore runs, ITelemetryStore samples, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(register);
        ArgumentNullException.ThrowIfNull(runs);
        ArgumentNullException.ThrowIfNull(samples);
        var heard = new Dictionary<string, IReadOnlyList<DateTimeOffset>>(StringComparer.Ordinal);
        foreach (var truck in await samples.TrucksAsync(cancellationToken))
        {
            var instants = new List<DateTimeOffset>();
            await foreach (var sample in samples.ReadAsync(truck.Truck, long.MinValue, long.MaxValue, cancellationToken))
            {
                HeardInstants.Keep(instants, sample.At, at => at.ToUnixTimeMilliseconds());
            }

            heard[truck.Truck] = instants;
        }

        return new ReplayFleet(register.PumpModels(), register.Trucks(), register.ServiceRecords(), truck => runs.Read(truck), heard);
    }

    /// <summary>The fleet as it was known at an instant.</summary>
    public FleetData AsOf(DateTimeOffset asOf) => FleetData.Build(models, trucks, records, truck => runs[truck], asOf) with
    {
        Feeds = trucks.Where(t => heard.ContainsKey(t.Id)).ToImmutableDictionary(t => t.Id, t => new FeedSigns(LastHeard(t.Id, asOf), 0, null), StringComparer.Ordinal),
    };

    private DateTimeOffset? LastHeard(string truck, DateTimeOffset asOf)
    {
        var instants = heard[truck];
        var low = 0;
        var high = instants.Count;
        while (low < high)
        {
            var middle = (low + high) / 2;
            (low, high) = instants[middle] <= asOf ? (middle + 1, high) : (low, middle);
        }

        return low == 0 ? null : instants[low - 1];
    }
}
