using System.Collections.Immutable;
using Vanehour.Fleet.Units;

namespace Vanehour.Fleet.Import;

/// <summary>Reads pump-models.csv.</summary>
internal static class PumpModelCsv
{
    public static readonly ImmutableArray<string[]> Required =
    [
        ["model"], ["rated_speed_rpm"], ["min_speed_rpm"], ["max_speed_rpm"], ["free_air_cfm", "free_air_m3h"],
        ["max_vacuum_inhg", "max_vacuum_kpa"], ["max_pressure_psi", "max_pressure_kpa"], ["max_temperature_degf", "max_temperature_c"],
        ["flow_kept_limit"],
    ];

    public static readonly ImmutableArray<string> Optional =
    [
        "oil_rate_qth", "oil_rate_lh", "vane_width_new_mm", "vane_width_new_in", "vane_width_limit_mm", "vane_width_limit_in",
        "relief_vacuum_inhg", "relief_vacuum_kpa", "relief_pressure_psi", "relief_pressure_kpa",
    ];

    public static IReadOnlyCollection<PumpModel> Read(CsvTable table, List<CsvProblem> problems)
    {
        var models = new Dictionary<string, PumpModel>(StringComparer.Ordinal);
        foreach (var row in table.Rows)
        {
            var reader = new CsvRowReader(table, row, problems);
            var model = new PumpModel
            {
                Model = reader.RequiredText("model"),
                RatedSpeed = reader.RequiredQuantity<RotationalSpeed>(("rated_speed_rpm", Unit.Rpm)),
                MinSpeed = reader.RequiredQuantity<RotationalSpeed>(("min_speed_rpm", Unit.Rpm)),
                MaxSpeed = reader.RequiredQuantity<RotationalSpeed>(("max_speed_rpm", Unit.Rpm)),
                FreeAir = reader.RequiredQuantity<VolumeFlow>(("free_air_cfm", Unit.CubicFootPerMinute), ("free_air_m3h", Unit.CubicMetrePerHour)),
                MaxVacuum = reader.RequiredQuantity<Pressure>(("max_vacuum_inhg", Unit.InchOfMercury), ("max_vacuum_kpa", Unit.Kilopascal)),
                MaxPressure = reader.RequiredQuantity<Pressure>(("max_pressure_psi", Unit.Psi), ("max_pressure_kpa", Unit.Kilopascal)),
                MaxTemperature = reader.RequiredQuantity<Temperature>(("max_temperature_degf", Unit.Fahrenheit), ("max_temperature_c", Unit.Celsius)),
                FlowKeptLimit = reader.RequiredNumber("flow_kept_limit"),
                OilRate = reader.Quantity<VolumeFlow>(("oil_rate_qth", Unit.QuartPerHour), ("oil_rate_lh", Unit.LitrePerHour)),
                VaneWidthNew = reader.Quantity<Length>(("vane_width_new_mm", Unit.Millimetre), ("vane_width_new_in", Unit.InchLength)),
                VaneWidthLimit = reader.Quantity<Length>(("vane_width_limit_mm", Unit.Millimetre), ("vane_width_limit_in", Unit.InchLength)),
                ReliefVacuum = reader.Quantity<Pressure>(("relief_vacuum_inhg", Unit.InchOfMercury), ("relief_vacuum_kpa", Unit.Kilopascal)),
                ReliefPressure = reader.Quantity<Pressure>(("relief_pressure_psi", Unit.Psi), ("relief_pressure_kpa", Unit.Kilopascal)),
            };
            Check(reader, model);
            if (reader.IsGood)
            {
                models[model.Model] = model;
            }
        }

        return models.Values;
    }

    private static void Check(CsvRowReader reader, PumpModel model)
    {
        if (!reader.IsGood)
        {
            return;
        }

        if (model.RatedSpeed.Si <= 0 || model.MinSpeed > model.RatedSpeed || model.RatedSpeed > model.MaxSpeed)
        {
            reader.Refuse("rated_speed_rpm", "The speeds must satisfy min_speed <= rated_speed <= max_speed, above zero.");
        }

        if (model.FreeAir.Si <= 0)
        {
            reader.Refuse("free_air_cfm", "The free air flow must be above zero.");
        }

        // No vacuum can exceed the barometer; 105 kPa is above any.
        if (model.MaxVacuum.Kilopascals is <= 0 or > 105)
        {
            reader.Refuse("max_vacuum_inhg", "The vacuum limit must lie above zero and below the barometer (about 30 inHg).");
        }

        if (model.MaxPressure.Si <= 0)
        {
            reader.Refuse("max_pressure_psi", "The pressure limit must be above zero.");
        }

        if (model.FlowKeptLimit is <= 0 or >= 1)
        {
            reader.Refuse("flow_kept_limit", "The limit is a fraction of new flow, above 0 and below 1.");
        }

        if (model.ReliefVacuum is { } relief && relief.Kilopascals is <= 0 or > 105)
        {
            reader.Refuse("relief_vacuum_inhg", "The relief setting must lie above zero and below the barometer (about 30 inHg).");
        }

        if (model.VaneWidthLimit is { } limit && (limit.Si <= 0 || model.VaneWidthNew is not { } width || limit >= width))
        {
            reader.Refuse("vane_width_limit_mm", "The limit must be above zero and less than the width when new, which must be given too.");
        }
    }
}
