using Vanehour.Fleet.Units;

namespace Vanehour.Fleet;

/// <summary>What the maker says of a pump model, and what the fleet's keeper wants of it.</summary>
public sealed record PumpModel
{
    /// <summary>The model's name; the key.</summary>
    public required string Model { get; init; }

    public required RotationalSpeed RatedSpeed { get; init; }

    /// <summary>Lowest speed allowed under load.</summary>
    public required RotationalSpeed MinSpeed { get; init; }

    /// <summary>Highest speed allowed under load.</summary>
    public required RotationalSpeed MaxSpeed { get; init; }

    /// <summary>Free air displacement at rated speed.</summary>
    public required VolumeFlow FreeAir { get; init; }

    /// <summary>Highest vacuum below ambient allowed continuously.</summary>
    public required Pressure MaxVacuum { get; init; }

    /// <summary>Highest pressure above ambient allowed.</summary>
    public required Pressure MaxPressure { get; init; }

    public required Temperature MaxTemperature { get; init; }

    /// <summary>Fraction of new flow at the reference vacuum at which vanes are due, above 0 and below 1.</summary>
    public required double FlowKeptLimit { get; init; }

    /// <summary>The maker's rated oil feed per PTO hour at rated speed.</summary>
    public VolumeFlow? OilRate { get; init; }

    public Length? VaneWidthNew { get; init; }

    public Length? VaneWidthLimit { get; init; }

    /// <summary>Vacuum below ambient at which the vacuum relief valve should lift.</summary>
    public Pressure? ReliefVacuum { get; init; }

    /// <summary>Pressure above ambient at which the pressure relief valve should lift.</summary>
    public Pressure? ReliefPressure { get; init; }
}
