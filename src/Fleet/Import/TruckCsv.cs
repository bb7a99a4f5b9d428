using System.Collections.Immutable;
using Vanehour.Fleet.Units;

namespace Vanehour.Fleet.Import;

/// <summary>Reads trucks.csv.</summary>
internal static class TruckCsv
{
    public static readonly ImmutableArray<string[]> Required =
    [
        ["truck"], ["yard"], ["pump_model"], ["pump_serial"], ["pump_fitted"], ["meter_at_fitting_h"], ["tank_gal", "tank_l"], ["time_zone"],
    ];

    public static readonly ImmutableArray<string> Optional = ["name", "elevation_ft", "elevation_m", "in_service", "drive", "deodoriser"];

    public static IReadOnlyCollection<Truck> Read(
        CsvTable table, IReadOnlyList<PumpModel> models, IReadOnlyList<Truck> registered, List<CsvProblem> problems)
    {
        var modelNames = models.Select(m => m.Model).ToHashSet(StringComparer.Ordinal);
        var known = registered.ToDictionary(t => t.Id, StringComparer.Ordinal);
        var trucks = new Dictionary<string, Truck>(StringComparer.Ordinal);
        foreach (var row in table.Rows)
        {
            var reader = new CsvRowReader(table, row, problems);
            var zone = Zone(reader);
            var truck = new Truck
            {
                Id = reader.RequiredText("truck"),
                Name = reader.Text("name"),
                Yard = reader.RequiredText("yard"),
                PumpModel = reader.RequiredText("pump_model"),
                PumpSerial = reader.RequiredText("pump_serial"),
                PumpFitted = reader.RequiredInstant("pump_fitted", zone ?? TimeZoneInfo.Utc),
                MeterAtFittingH = reader.RequiredNumber("meter_at_fitting_h"),
                TankVolume = reader.RequiredQuantity<Volume>(("tank_gal", Unit.USGallon), ("tank_l", Unit.Litre)),
                Elevation = reader.Quantity<Length>(("elevation_ft", Unit.FootLength), ("elevation_m", Unit.Metre)),
                TimeZone = reader.Text("time_zone") ?? string.Empty,
                InService = reader.YesNo("in_service") ?? true,
                Drive = Drive(reader),
                Deodoriser = reader.YesNo("deodoriser"),
            };
            Check(reader, truck, modelNames, known);
            if (reader.IsGood)
            {
                trucks[truck.Id] = truck;
            }
        }

        return trucks.Values;
    }

    private static TimeZoneInfo? Zone(CsvRowReader reader)
    {
        var name = reader.RequiredText("time_zone");
        if (name.Length > 0 && TimeZoneInfo.TryFindSystemTimeZoneById(name, out var zone))
        {
            return zone;
        }

        if (name.Length > 0)
        {
            reader.Refuse("time_zone", $"'{name}' is not an IANA time zone of this machine (as America/Chicago; the system's time zone data must be installed).");
        }

        return null;
    }

    private static DriveKind? Drive(CsvRowReader reader)
    {
        switch (reader.Text("drive"))
        {
            case null:
                return null;
            case "direct":
                return DriveKind.Direct;
            case "gearbox":
                return DriveKind.Gearbox;
            case "hydraulic":
                return DriveKind.Hydraulic;
            case { } other:
                reader.Refuse("drive", $"'{other}' is none of direct, gearbox, hydraulic.");
                return null;
        }
    }

    private static void Check(CsvRowReader reader, Truck truck, HashSet<string> modelNames, Dictionary<string, Truck> known)
    {
        if (!reader.IsGood)
        {
            return;
        }

        if (!TruckId.IsValid(truck.Id))
        {
            reader.Refuse("truck", "A truck's id is 1 to 64 of letters, digits, '-', '_' and '.'.");
        }

        if (!modelNames.Contains(truck.PumpModel))
        {
            reader.Refuse("pump_model", $"The pump model '{truck.PumpModel}' is not registered; import its pump model file first or together.");
        }

        if (truck.MeterAtFittingH < 0)
        {
            reader.Refuse("meter_at_fitting_h", "The meter cannot be below zero.");
        }

        if (truck.TankVolume.Si <= 0)
        {
            reader.Refuse("tank_gal", "The tank volume must be above zero.");
        }

        if (truck.Elevation is { } elevation && elevation.Metres is < -500 or > 6000)
        {
            reader.Refuse("elevation_ft", "The elevation must lie between -500 m and 6 000 m.");
        }

        if (known.TryGetValue(truck.Id, out var before) && !string.Equals(before.PumpSerial, truck.PumpSerial, StringComparison.Ordinal))
        {
            reader.Refuse(
                "pump_serial",
                $"Truck {truck.Id} is registered with pump {before.PumpSerial}; a swap to {truck.PumpSerial} is a service record (removed, then fitted), not a change here.");
        }
    }
}
