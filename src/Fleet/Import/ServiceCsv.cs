using System.Collections.Immutable;
using Vanehour.Fleet.Register;
using Vanehour.Fleet.Units;

namespace Vanehour.Fleet.Import;

/// <summary>Reads service.csv.</summary>
internal static class ServiceCsv
{
    public static readonly ImmutableArray<string[]> Required = [["date"], ["truck"], ["meter_h"], ["kind"]];

    public static readonly ImmutableArray<string> Optional = ["record_id", "value", "unit", "pump_serial", "pump_model", "note"];

    public static IReadOnlyCollection<ServiceRecord> Read(
        CsvTable table, IReadOnlyList<PumpModel> models, IReadOnlyList<Truck> trucks, List<CsvProblem> problems)
    {
        var modelNames = models.Select(m => m.Model).ToHashSet(StringComparer.Ordinal);
        var byId = trucks.ToDictionary(t => t.Id, StringComparer.Ordinal);
        var records = new Dictionary<string, ServiceRecord>(StringComparer.Ordinal);
        foreach (var row in table.Rows)
        {
            var reader = new CsvRowReader(table, row, problems);
            var truckId = reader.RequiredText("truck");
            var truck = byId.GetValueOrDefault(truckId);
            if (truck is null && truckId.Length > 0)
            {
                reader.Refuse("truck", $"Truck '{truckId}' is not registered; import the truck file first or together.");
            }

            var zone = truck is not null && TimeZoneInfo.TryFindSystemTimeZoneById(truck.TimeZone, out var found) ? found : TimeZoneInfo.Utc;
            var kindName = reader.RequiredText("kind");
            var kind = ServiceKindInfo.Find(kindName);
            if (kind is null && kindName.Length > 0)
            {
                reader.Refuse("kind", $"'{kindName}' is no kind of service record; one of {string.Join(", ", ServiceKindInfo.All.Select(k => k.Name))}.");
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
            if (kind is not null)
            {
                Check(reader, record, kind, modelNames);
            }

            if (reader.IsGood)
            {
                records[FleetRegister.KeyOf(record)] = record;
            }
        }

        return records.Values;
    }

    private static void Check(CsvRowReader reader, ServiceRecord record, ServiceKindInfo kind, HashSet<string> modelNames)
    {
        if (!reader.IsGood)
        {
            return;
        }

        if (record.MeterH < 0)
        {
            reader.Refuse("meter_h", "The meter cannot be below zero.");
        }

        if (kind.TakesValue)
        {
            CheckValue(reader, record, kind);
        }
        else if (record.Value is not null)
        {
            reader.Refuse("value", $"A record of kind {kind.Name} takes no value; put it into the note.");
        }

        if (record.Kind == ServiceKind.Fitted && (record.PumpSerial is null || record.PumpModel is null))
        {
            reader.Refuse(record.PumpSerial is null ? "pump_serial" : "pump_model", "A pump put on needs its serial and its model.");
        }

        if (record.PumpModel is { } model && !modelNames.Contains(model))
        {
            reader.Refuse("pump_model", $"The pump model '{model}' is not registered; import its pump model file first or together.");
        }

        if (record.Kind == ServiceKind.Round && record.Note is null)
        {
            reader.Refuse("note", "A round's note names the round.");
        }
    }

    private static void CheckValue(CsvRowReader reader, ServiceRecord record, ServiceKindInfo kind)
    {
        if (record.Value is not { } value)
        {
            reader.Refuse("value", $"A record of kind {kind.Name} needs a value.");
            return;
        }

        if (record.Unit is not { } symbol || !kind.Symbols.Contains(symbol))
        {
            reader.Refuse("unit", $"A record of kind {kind.Name} needs its unit, one of {string.Join(", ", kind.Symbols)}.");
            return;
        }

        // A hand reading may be below zero, a width, a volume, a setting or a meter may not.
        if (value < 0 && (kind.Kind != ServiceKind.GaugeCheck || Unit.Find(symbol)!.Dimension is Dimension.Volume or Dimension.RotationalSpeed))
        {
            reader.Refuse("value", "The value cannot be below zero.");
        }
    }
}
