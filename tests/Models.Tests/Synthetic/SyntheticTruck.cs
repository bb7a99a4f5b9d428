using Vanehour.Fleet;

namespace Vanehour.Models.Tests.Synthetic;

/// <summary>A truck of the synthetic fleet: what is particular to it. Every value is invented.</summary>
public sealed record SyntheticTruck
{
    public required string Id { get; init; }

    /// <summary>Factor on the pump model's usual oil use.</summary>
    public double OilFactor { get; init; } = 1;

    /// <summary>Factor on the noise of its oil measurement: a reservoir's level instead of a meter.</summary>
    public double OilNoiseFactor { get; init; } = 1;

    /// <summary>Added to the usual temperature rise, K.</summary>
    public double WarmerK { get; init; }

    public double WearPer1000H { get; init; } = 0.3;

    /// <summary>Flow as new over the nameplate's.</summary>
    public double FlowFactor { get; init; } = 0.9;

    /// <summary>PTO hours the pump had when the data begin.</summary>
    public double AgeAtStartH { get; init; }

    /// <summary>Where the vacuum relief lifts, kPa.</summary>
    public double ReliefKPa { get; init; } = 60;

    public bool HasSpeed { get; init; } = true;

    /// <summary>Further factor on oil use, by days since the data began.</summary>
    public Func<double, double> OilFault { get; init; } = _ => 1;

    /// <summary>Further temperature rise, K, by days.</summary>
    public Func<double, double> HeatFault { get; init; } = _ => 0;

    /// <summary>Added to the relief's vacuum, kPa, by days.</summary>
    public Func<double, double> ReliefFault { get; init; } = _ => 0;

    /// <summary>Share of the flow as new that a leak takes from the net flow at the reference vacuum, by days.</summary>
    public Func<double, double> LeakFault { get; init; } = _ => 0;

    /// <summary>Share of the flow as new that something in its way takes, by days.</summary>
    public Func<double, double> BlockageFault { get; init; } = _ => 0;

    /// <summary>Minutes a run spends above the vacuum limit, by days.</summary>
    public Func<double, double> HeldMinutes { get; init; } = _ => 0;

    /// <summary>Share of the time outside the speed range, by days.</summary>
    public Func<double, double> SpeedOutside { get; init; } = _ => 0;

    /// <summary>Highest tank pressure of a run, kPa, by days.</summary>
    public Func<double, double> PressureKPa { get; init; } = _ => 80;

    /// <summary>Correlation of neighbouring runs' noise in oil and temperature.</summary>
    public double NoiseRho { get; init; }

    public IReadOnlyList<ServiceRecord> Records { get; init; } = [];
}
