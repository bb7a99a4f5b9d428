using Vanehour.Simulator.Randomness;

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

    /// <summary>Standard deviation of the true flow about the maker's, as a factor.</summary>
    public const double FlowSd = 0.02;

    public const double OilSd = 0.06;
    public const double HeatSd = 0.05;

    /// <summary>The same truck with another pump of the same model on it.</summary>
    public PumpTraits OtherPump(SeededRandom random) =>
        this with { FlowFactor = random.Factor(FlowSd), OilFactor = random.Factor(OilSd), HeatFactor = random.Factor(HeatSd) };
}
