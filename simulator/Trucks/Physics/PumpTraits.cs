namespace Vanehour.Simulator.Physics;

/// <summary>What makes one truck's pump unlike its peers and unlike the register: factors about 1, and offsets.</summary>
internal sealed record PumpTraits
{
    /// <summary>Working speed over rated speed.</summary>
    public required double SpeedFactor { get; init; }

    /// <summary>True displaced flow over the maker's.</summary>
    public required double FlowFactor { get; init; }

    /// <summary>True gas volume of the empty tank and hoses over the nominal tank volume.</summary>
    public required double VolumeFactor { get; init; }

    public required double OilFactor { get; init; }

    public required double HeatFactor { get; init; }

    /// <summary>How far the vacuum relief valve is from the wanted setting, kPa.</summary>
    public required double ReliefOffsetKPa { get; init; }

    /// <summary>Time constant with which the walls warm the gas in the tank, s.</summary>
    public double GasWarmingS { get; init; } = 35;
}
