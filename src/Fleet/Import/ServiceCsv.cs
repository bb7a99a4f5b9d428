using System.Collections.Immutable;
using Vanehour.Fleet.Register;
using Vanehour.Fleet.Servicing;

namespace Vanehour.Fleet.Import;

/// <summary>Reads service.csv.</summary>
internal static class ServiceCsv
{
    public static readonly ImmutableArray<string[]> Required = [["date"], ["truck"], ["meter_h"], ["kind"]];

    public static readonly ImmutableArray<string> Optional = ["record_id", "value", "unit", "pump_serial", "pump_model", "note"];

    public static IReadOnlyCollection<ServiceRow> Read(
        CsvTable table, IReadOnlyList<PumpModel> models, IReadOnlyList<Truck> trucks, List<CsvProblem> problems)
    {
        var modelNames = models.Select(m => m.Model).ToHashSet(StringComparer.Ordinal);
        var byId = trucks.ToDictionary(t => t.Id, StringComparer.Ordinal);
        var records = new Dictionary<string, ServiceRow>(StringComparer.Ordinal);
        foreach (var row in table.Rows)
        {
            var reader = new CsvRowReader(table, row, problems);
            var truckId = reader.RequiredText("truck");
            var truck = byId.GetValueOrDefault(truckId);
            if (truck is null && truckId.Length > 0)
            {
                reader.Refuse("truck", $"Truck '{truckId}' is not registered; import the truck file first or together.");
            }

            var zone = truck is null ? TimeZoneInfo.Utc : YardTime.ZoneOf(truck);
            var kindName = reader.RequiredText("kind");
            var kind = ServiceKindInfo.Find(kindName);
            if (kind is null && kindName.Length > 0)
            {
                reader.Refuse("kind", ServiceKindInfo.Unknown(kindName));
            }

            var record = new ServiceRecord
            {
                RecordId = reader.Text("record_id"),
                At = reader.RequiredInstant("date", zone),
                Truck = truckId,
                MeterH = reader.RequiredNumber("meter_h"),
                Kind = kind?.Kind ?? default,
                Value = reader.Number("value"),
                Unit = reader.Text("unit") ?? (kind is { UnitMayBeLeftOut: true } ? kind.Symbols[0] : null),
                PumpSerial = reader.Text("pump_serial"),
                PumpModel = reader.Text("pump_model"),
                Note = reader.Text("note"),
            };
            if (reader.IsGood)
            {
                foreach (var (column, reason) in ServiceRules.Problems(record, modelNames))
                {
                    reader.Refuse(column, reason);
                }
            }

            if (reader.IsGood)
            {
                var key = FleetRegister.KeyOf(record);
                records[key] = new ServiceRow(row.Line, key, record);
            }
        }

        return records.Values;
    }
}
