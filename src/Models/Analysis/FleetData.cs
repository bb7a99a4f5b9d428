using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Fleet.Lives;
using Vanehour.Fleet.Register;
using Vanehour.Fleet.Runs;
using Vanehour.Store.Runs;
using Vanehour.Store.Telemetry;

namespace Vanehour.Models.Analysis;

/// <summary>What an analysis reads: the register and the runs, no later than its instant.</summary>
public sealed record FleetData
{
    public required DateTimeOffset AsOf { get; init; }

    /// <summary>Every life on every registered truck with a known pump model, in order of truck, then of fitting.</summary>
    public required ImmutableArray<PumpHistory> Pumps { get; init; }

    /// <summary>What could not be used, in plain sentences.</summary>
    public required ImmutableArray<string> Remarks { get; init; }

    /// <summary>What waits to be forwarded to a server; null where that is not known, and then not judged.</summary>
    public ForwardingBacklog? Forwarding { get; init; }

    /// <summary>What is known of the feeds, by truck; a truck that is missing is not judged by it.</summary>
    public ImmutableDictionary<string, FeedSigns> Feeds { get; init; } = ImmutableDictionary<string, FeedSigns>.Empty;

    /// <summary>Reads a fleet truck by truck.</summary>
    /// <param name="register">Trucks, models and service records.</param>
    /// <param name="runs">The runs.</param>
    /// <param name="asOf">Nothing after this instant is looked at.</param>
    /// <param name="cancellationToken">Stops between trucks.</param>
    public static FleetData Read(IFleetRegister register, IRunStore runs, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(register);
        ArgumentNullException.ThrowIfNull(runs);
        return Build(register.PumpModels(), register.Trucks(), register.ServiceRecords(), ReadRuns, asOf);

        IReadOnlyList<Run> ReadRuns(string truck)
        {
            cancellationToken.ThrowIfCancellationRequested();
            return runs.Read(truck, null, asOf);
        }
    }

    /// <summary>Puts together the lives of a fleet from what was read.</summary>
    /// <param name="models">The pump models.</param>
    /// <param name="trucks">The trucks.</param>
    /// <param name="records">The service records of all trucks.</param>
    /// <param name="runsOf">The runs of a truck, in order of start.</param>
    /// <param name="asOf">Nothing after this instant is looked at.</param>
    public static FleetData Build(
        IReadOnlyList<PumpModel> models,
        IReadOnlyList<Truck> trucks,
        IReadOnlyList<ServiceRecord> records,
        Func<string, IReadOnlyList<Run>> runsOf,
        DateTimeOffset asOf)
    {
        ArgumentNullException.ThrowIfNull(models);
        ArgumentNullException.ThrowIfNull(trucks);
        ArgumentNullException.ThrowIfNull(records);
        ArgumentNullException.ThrowIfNull(runsOf);

        var byName = models.ToDictionary(m => m.Model, StringComparer.Ordinal);
        var recordsByTruck = records.Where(r => r.At <= asOf).ToLookup(r => r.Truck, StringComparer.Ordinal);
        var pumps = ImmutableArray.CreateBuilder<PumpHistory>();
        var remarks = ImmutableArray.CreateBuilder<string>();
        foreach (var truck in trucks.OrderBy(t => t.Id, StringComparer.Ordinal))
        {
            IReadOnlyList<ServiceRecord> own = [.. recordsByTruck[truck.Id].OrderBy(r => r.At)];
            var runs = runsOf(truck.Id).Where(r => r.End <= asOf).ToList();
            foreach (var life in LifeHistory.Build(truck, own).Where(l => l.FittedAt <= asOf))
            {
                if (!byName.TryGetValue(life.PumpModel, out var model))
                {
                    remarks.Add($"Pump {life.PumpSerial} on truck {truck.Id} is left out: its model {life.PumpModel} is not registered.");
                    continue;
                }

                IReadOnlyList<Run> ofLife = [.. runs.Where(r => life.Covers(r.Start))];
                pumps.Add(new PumpHistory
                {
                    Truck = truck,
                    Life = life,
                    Model = model,
                    Runs = ofLife,
                    Clock = LifeClock.Build(life, ofLife, own),
                    Records = own,
                    IsCurrent = life.EndedAt is null,
                });
            }
        }

        return new FleetData { AsOf = asOf, Pumps = pumps.ToImmutable(), Remarks = remarks.ToImmutable() };
    }
}
