namespace Vanehour.Fleet.Runs;

/// <summary>One engagement of the power take-off, from on to off, with what was seen in it. Units are the ends of the names; what was not measured is null.</summary>
public sealed record Run
{
    public required string Truck { get; init; }

    public required DateTimeOffset Start { get; init; }

    public required DateTimeOffset End { get; init; }

    /// <summary>PTO hours of the run: the meter's difference where it agrees with the engaged time, else the engaged time (with a note).</summary>
    public required double HoursH { get; init; }

    /// <summary>The meter as read at the start, h.</summary>
    public double? MeterStartH { get; init; }

    /// <summary>The meter as read at the end, h.</summary>
    public double? MeterEndH { get; init; }

    /// <summary>Time-weighted mean, kPa below ambient.</summary>
    public double? VacuumMeanKPa { get; init; }

    /// <summary>Highest vacuum, kPa below ambient.</summary>
    public double? VacuumMaxKPa { get; init; }

    /// <summary>Minutes above the model's continuous vacuum limit.</summary>
    public double? MinutesAboveVacuumLimit { get; init; }

    /// <summary>Highest tank pressure, kPa above ambient.</summary>
    public double? PressureMaxKPa { get; init; }

    /// <summary>Time-weighted mean pump temperature, Cel.</summary>
    public double? PumpTempMeanC { get; init; }

    /// <summary>Highest pump temperature, Cel.</summary>
    public double? PumpTempMaxC { get; init; }

    /// <summary>Time-weighted mean ambient temperature, Cel.</summary>
    public double? AmbientMeanC { get; init; }

    /// <summary>Time-weighted mean of pump over ambient temperature once the pump has warmed up, K; see the run derivation for how long that is.</summary>
    public double? TempRiseK { get; init; }

    /// <summary>How restless the pump temperature was under vacuum, as the noise of one reading, K.</summary>
    public double? TempHuntingK { get; init; }

    /// <summary>Time-weighted mean pump speed under load, or over the whole run where the pump was never loaded, rpm.</summary>
    public double? SpeedMeanRpm { get; init; }

    /// <summary>Share of the time under load spent outside the model's speed range, 0..1.</summary>
    public double? SpeedOutsideShare { get; init; }

    /// <summary>Oil used, corrected for refills, L.</summary>
    public double? OilUsedL { get; init; }

    /// <summary>Mean ambient pressure, kPa absolute: the barometer's, or the standard atmosphere at the yard.</summary>
    public double? BaroKPa { get; init; }

    public required RunQuality Quality { get; init; }

    /// <summary>The first pump-down of the run, where one was found and fitted.</summary>
    public PumpDown? FirstPumpDown { get; init; }

    /// <summary>Oil used per PTO hour, L/h; null where unknown or the run is too short to divide by.</summary>
    public double? OilRateLPerH => OilUsedL is { } oil && HoursH > 0 ? oil / HoursH : null;
}
