namespace Vanehour.Simulator.Physics;

/// <summary>What the crew does at an instant.</summary>
internal readonly record struct Controls
{
    public static readonly Controls Off = new() { Valve = ValvePosition.Neutral, Bleeds = true };

    /// <summary>Whether the power take-off drives the pump.</summary>
    public bool Engaged { get; init; }

    /// <summary>Speed asked of the drive over rated speed.</summary>
    public double AskedSpeed { get; init; }

    public ValvePosition Valve { get; init; }

    /// <summary>Conductance of what lets air in or out at the hose, m3/s: air flow at ambient pressure = this times the difference of pressure over ambient.</summary>
    public double HoseAirM3PerS { get; init; }

    /// <summary>Liquid through the hose at <see cref="LiquidAtKPa"/>, m3/s, 0 or more: into the tank under vacuum, out of it under pressure.</summary>
    public double LiquidM3PerS { get; init; }

    /// <summary>The vacuum or pressure at which <see cref="LiquidM3PerS"/> flows, kPa; it grows with the root.</summary>
    public double LiquidAtKPa { get; init; }

    /// <summary>Whether the tank is open to the air, so that it vents within seconds.</summary>
    public bool Bleeds { get; init; }
}
