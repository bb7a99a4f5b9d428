using Vanehour.Fleet.Lives;
using Vanehour.Host.Composition;

namespace Vanehour.Host.Output;

/// <summary>Puts together what is known of every truck, registered or only heard.</summary>
internal static class TruckRows
{
    public static async Task<IReadOnlyList<TruckRow>> ReadAsync(DataFolder data, CancellationToken cancellationToken)
    {
        var heard = (await data.Samples.TrucksAsync(cancellationToken)).ToDictionary(t => t.Truck, StringComparer.Ordinal);
        var wear = (data.LatestAnalysis()?.Wear ?? []).ToDictionary(w => w.Truck, StringComparer.Ordinal);
        var records = data.Register.ServiceRecords().ToLookup(r => r.Truck, StringComparer.Ordinal);
        var rows = new List<TruckRow>();
        foreach (var truck in data.Register.Trucks())
        {
            var life = LifeHistory.Build(truck, records[truck.Id]).LastOrDefault(l => l.EndedAt is null);
            rows.Add(new TruckRow(
                truck.Id,
                truck.Name,
                truck.Yard,
                life?.PumpModel,
                life?.PumpSerial,
                data.Runs.Read(truck.Id).LastOrDefault(r => r.MeterEndH is not null)?.MeterEndH,
                wear.GetValueOrDefault(truck.Id)?.HoursSinceFitting,
                heard.TryGetValue(truck.Id, out var extent) ? DateTimeOffset.FromUnixTimeMilliseconds(extent.LastMs) : null,
                Registered: true));
            heard.Remove(truck.Id);
        }

        rows.AddRange(heard.Values.Select(e => new TruckRow(
            e.Truck, null, null, null, null, null, null, DateTimeOffset.FromUnixTimeMilliseconds(e.LastMs), Registered: false)));
        return [.. rows.OrderBy(r => r.Truck, StringComparer.Ordinal)];
    }
}
