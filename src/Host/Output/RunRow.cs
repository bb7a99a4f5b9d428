using Vanehour.Fleet.Runs;

namespace Vanehour.Host.Output;

/// <summary>A run as listed; units are the ends of the names, what was not measured is null.</summary>
/// <param name="Truck">The truck's id.</param>
/// <param name="Start">PTO on.</param>
/// <param name="End">PTO off.</param>
/// <param name="HoursH">PTO hours.</param>
/// <param name="VacuumMeanKpa">Mean vacuum.</param>
/// <param name="VacuumMaxKpa">Highest vacuum.</param>
/// <param name="MinutesAboveVacuumLimit">Minutes above the model's continuous limit.</param>
/// <param name="PressureMaxKpa">Highest tank pressure.</param>
/// <param name="PumpTempMaxC">Highest pump temperature.</param>
/// <param name="TempRiseK">Rise over ambient once warm.</param>
/// <param name="SpeedMeanRpm">Mean speed.</param>
/// <param name="OilUsedL">Oil used.</param>
/// <param name="OilRateLPerH">Oil used per PTO hour.</param>
/// <param name="Check">start-up check, or why the first pump-down is none; null without a pump-down.</param>
/// <param name="PlateauKpa">Where the first pump-down ended.</param>
/// <param name="WatchTimeS">Seconds from 5 to 12 inHg.</param>
/// <param name="Coverage">Share of the run covered by samples, 0..1.</param>
/// <param name="Notes">What was repaired or doubted.</param>
public sealed record RunRow(
    string Truck,
    DateTimeOffset Start,
    DateTimeOffset End,
    double HoursH,
    double? VacuumMeanKpa,
    double? VacuumMaxKpa,
    double? MinutesAboveVacuumLimit,
    double? PressureMaxKpa,
    double? PumpTempMaxC,
    double? TempRiseK,
    double? SpeedMeanRpm,
    double? OilUsedL,
    double? OilRateLPerH,
    string? Check,
    double? PlateauKpa,
    double? WatchTimeS,
    double Coverage,
    IReadOnlyList<RunNote> Notes)
{
    /// <summary>The row of a run.</summary>
    public static RunRow Of(Run run)
    {
        ArgumentNullException.ThrowIfNull(run);
        var pumpDown = run.FirstPumpDown;
        return new RunRow(
            run.Truck,
            run.Start,
            run.End,
            run.HoursH,
            run.VacuumMeanKPa,
            run.VacuumMaxKPa,
            run.MinutesAboveVacuumLimit,
            run.PressureMaxKPa,
            run.PumpTempMaxC,
            run.TempRiseK,
            run.SpeedMeanRpm,
            run.OilUsedL,
            run.OilRateLPerH,
            pumpDown is null ? null : pumpDown.IsStartUpCheck ? "StartUpCheck" : pumpDown.Refusal?.ToString() ?? "PumpDown",
            pumpDown?.PlateauKPa,
            pumpDown?.WatchTime5To12InHgS,
            run.Quality.Coverage,
            run.Quality.Notes);
    }
}
