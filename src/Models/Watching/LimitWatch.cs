using Vanehour.Fleet;
using Vanehour.Fleet.Lives;
using Vanehour.Fleet.Register;
using Vanehour.Models.Findings;
using Vanehour.Store.Telemetry;

namespace Vanehour.Models.Watching;

//     ITelemetryStore --newly stored samples--> TruckWatch (one a truck) --LimitSighting--> WatchedFindings --> FindingBook
//     IFleetRegister  --pump on the truck, its model's limits--^

/// <summary>Reads newly stored samples and raises what cannot wait for an analysis: limits of the pump model passed for too long.</summary>
/// <param name="samples">The samples.</param>
/// <param name="register">Trucks, pump models, service records.</param>
/// <param name="book">Where findings are kept.</param>
/// <param name="options">How long limits may be passed.</param>
/// <param name="pressureTolerance">As in the analysis (<see cref="FindingOptions.PressureTolerance"/>).</param>
/// <param name="time">The clock.</param>
public sealed class LimitWatch(
    ITelemetryStore samples, IFleetRegister register, FindingBook book, WatchOptions options, double pressureTolerance, TimeProvider time)
{
    // A pump that was swapped is watched by its own limits soon enough, and the register is not read for nothing every few seconds.
    private static readonly TimeSpan RegisterAge = TimeSpan.FromMinutes(1);

    private readonly Dictionary<string, (PumpOnTruck Pump, TruckWatch Watch)> watches = new(StringComparer.Ordinal);
    private DateTimeOffset registerRead = DateTimeOffset.MinValue;

    /// <summary>Looks once. What it raised or changed comes back.</summary>
    /// <exception cref="Store.StoreUnavailableException">A store cannot be reached now; the next look makes up for it.</exception>
    public async Task<IReadOnlyList<Finding>> LookAsync(CancellationToken cancellationToken)
    {
        var now = time.GetUtcNow();
        if (now - registerRead >= RegisterAge)
        {
            ReadRegister();
            registerRead = now;
        }

        var fromMs = now.AddMinutes(-options.LookBackMinutes).ToUnixTimeMilliseconds();
        var changed = new List<Finding>();
        foreach (var extent in await samples.TrucksAsync(cancellationToken))
        {
            if (extent.LastMs < fromMs || !watches.TryGetValue(extent.Truck, out var own))
            {
                continue;
            }

            // A clock that runs ahead of ours must not make the watch pass over what comes meanwhile, so nothing of later than now is read.
            var page = new List<Sample>();
            var ownFromMs = Math.Max(Math.Max(fromMs, own.Watch.LatestMs), own.Pump.FittedAt.ToUnixTimeMilliseconds());
            await foreach (var sample in samples.ReadAsync(extent.Truck, ownFromMs, now.ToUnixTimeMilliseconds() + 1, cancellationToken))
            {
                page.Add(sample);
            }

            // The book is read only while there is something to say, and written only when it is new.
            var seen = own.Watch.Take(page);
            if (seen.Count > 0 && Apply(book.All(), own.Pump, seen).Count > 0)
            {
                book.Update(all =>
                {
                    var news = Apply(all, own.Pump, seen);
                    changed.AddRange(news);
                    return news;
                });
            }
        }

        return changed;
    }

    private static List<Finding> Apply(IReadOnlyList<Finding> all, PumpOnTruck pump, IReadOnlyList<LimitSighting> seen)
    {
        var state = all.ToDictionary(f => f.Id, StringComparer.Ordinal);
        var changed = new Dictionary<string, Finding>(StringComparer.Ordinal);
        foreach (var sighting in seen)
        {
            if (WatchedFindings.Apply([.. state.Values], pump.Truck, pump.Serial, sighting, Knowledge.Default) is { } finding)
            {
                state[finding.Id] = changed[finding.Id] = finding;
            }
        }

        return [.. changed.Values];
    }

    private void ReadRegister()
    {
        var models = register.PumpModels().ToDictionary(m => m.Model, StringComparer.Ordinal);
        var records = register.ServiceRecords().ToLookup(r => r.Truck, StringComparer.Ordinal);
        var known = new HashSet<string>(StringComparer.Ordinal);
        foreach (var truck in register.Trucks())
        {
            // A truck whose pump failed has none until the repair.
            if (LifeHistory.Build(truck, records[truck.Id]).LastOrDefault(l => l.EndedAt is null) is not { } life
                || !models.TryGetValue(life.PumpModel, out var model))
            {
                continue;
            }

            known.Add(truck.Id);
            var pump = new PumpOnTruck(truck.Id, life.PumpSerial, life.FittedAt, model);
            if (!watches.TryGetValue(truck.Id, out var own) || own.Pump != pump)
            {
                watches[truck.Id] = (pump, new TruckWatch(model, options, pressureTolerance));
            }
        }

        foreach (var gone in watches.Keys.Except(known, StringComparer.Ordinal).ToList())
        {
            watches.Remove(gone);
        }
    }

    private sealed record PumpOnTruck(string Truck, string Serial, DateTimeOffset FittedAt, PumpModel Model);
}
