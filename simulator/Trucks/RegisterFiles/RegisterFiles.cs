using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Simulator.RegisterCsv;

namespace Vanehour.Simulator;

/// <summary>Writes the register of a simulated fleet as the CSV files that an import reads.</summary>
public static class RegisterFiles
{
    public const string PumpModelsFile = "pump-models.csv";
    public const string TrucksFile = "trucks.csv";
    public const string ServiceFile = "service.csv";

    /// <summary>Writes pump-models.csv, trucks.csv and service.csv into a folder, which is made where it is missing; files that are there are replaced.</summary>
    /// <exception cref="IOException">A file cannot be written.</exception>
    public static void Write(SimulatedFleet fleet, string directory)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        ArgumentException.ThrowIfNullOrEmpty(directory);
        Directory.CreateDirectory(directory);
        PumpModels(fleet).Save(Path.Combine(directory, PumpModelsFile));
        Trucks(fleet).Save(Path.Combine(directory, TrucksFile));
        Services(fleet).Save(Path.Combine(directory, ServiceFile));
    }

    private static CsvTable PumpModels(SimulatedFleet fleet)
    {
        var table = new CsvTable(
            "model", "rated_speed_rpm", "min_speed_rpm", "max_speed_rpm", "free_air_cfm", "max_vacuum_inhg", "max_pressure_psi",
            "max_temperature_degf", "oil_rate_qth", "vane_width_new_mm", "vane_width_limit_mm", "flow_kept_limit", "relief_vacuum_inhg",
            "relief_pressure_psi");
        foreach (var m in fleet.PumpModels)
        {
            table.Add(
                m.Model, m.RatedSpeed.Rpm, m.MinSpeed.Rpm, m.MaxSpeed.Rpm, m.FreeAir.CubicFeetPerMinute, m.MaxVacuum.InchesOfMercury,
                m.MaxPressure.Psi, m.MaxTemperature.Fahrenheit, m.OilRate?.QuartsPerHour, m.VaneWidthNew?.Millimetres,
                m.VaneWidthLimit?.Millimetres, m.FlowKeptLimit, m.ReliefVacuum?.InchesOfMercury, m.ReliefPressure?.Psi);
        }

        return table;
    }

    private static CsvTable Trucks(SimulatedFleet fleet)
    {
        var table = new CsvTable(
            "truck", "name", "yard", "pump_model", "pump_serial", "pump_fitted", "meter_at_fitting_h", "tank_gal", "elevation_m", "time_zone",
            "in_service", "drive", "deodoriser");
        foreach (var t in fleet.Trucks)
        {
            table.Add(
                t.Id, t.Name, t.Yard, t.PumpModel, t.PumpSerial, t.PumpFitted.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
                t.MeterAtFittingH, t.TankVolume.Gallons, t.Elevation?.Metres, t.TimeZone, t.InService,
                t.Drive?.ToString().ToLowerInvariant(), t.Deodoriser);
        }

        return table;
    }

    private static CsvTable Services(SimulatedFleet fleet)
    {
        var table = new CsvTable("record_id", "date", "truck", "meter_h", "kind", "value", "unit", "pump_serial", "pump_model", "note");
        foreach (var r in fleet.ServiceRecords)
        {
            table.Add(
                r.RecordId, r.At.ToString("yyyy-MM-dd'T'HH:mm:sszzz", CultureInfo.InvariantCulture), r.Truck, r.MeterH, Name(r.Kind), r.Value,
                r.Unit, r.PumpSerial, r.PumpModel, r.Note);
        }

        return table;
    }

    /// <summary>VaneWidth as vane_width.</summary>
    private static string Name(ServiceKind kind) =>
        string.Concat(kind.ToString().Select((c, i) => char.IsUpper(c) && i > 0 ? $"_{c}" : $"{c}")).ToLowerInvariant();
}
