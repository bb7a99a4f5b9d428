namespace Vanehour.Models.VaneWear;

/// <summary>What is believed of a number before a pump's own observations: normal.</summary>
/// <param name="Mean">The mean.</param>
/// <param name="Variance">The variance, above 0.</param>
internal readonly record struct NormalPrior(double Mean, double Variance)
{
    /// <summary>Both beliefs together, taken as independent.</summary>
    public NormalPrior And(NormalPrior other)
    {
        var precision = (1 / Variance) + (1 / other.Variance);
        return new NormalPrior(((Mean / Variance) + (other.Mean / other.Variance)) / precision, 1 / precision);
    }
}

/// <summary>What is believed of a life before its observations.</summary>
/// <param name="NetFlow">ln of net flow as new over the nameplate's.</param>
/// <param name="Tightness">ln of tightness as new.</param>
/// <param name="LogRate">ln of wear per PTO hour.</param>
internal readonly record struct LifePriors(NormalPrior NetFlow, NormalPrior Tightness, NormalPrior LogRate);

/// <summary>What all lives share.</summary>
/// <param name="WanderPer1000H">Variance of ln rate that 1 000 h add.</param>
/// <param name="FlowPer1000H">Variance of ln displaced flow that 1 000 h add: what gets in the flow's way, a gauge that drifts.</param>
/// <param name="BinVariance">Variance of a bin beyond the scatter of its checks, by channel.</param>
/// <param name="PerKelvin">Change of each channel per kelvin of ambient temperature.</param>
/// <param name="Late">How wear goes on late in a life.</param>
internal sealed record SharedWear(double WanderPer1000H, double FlowPer1000H, (double NetFlow, double Tightness) BinVariance, (double NetFlow, double Tightness) PerKelvin, LateCurve Late)
{
    // Checks are brought to this ambient temperature; of our own.
    private const double UsualAmbientC = 15;

    /// <summary>What the weather does to a bin.</summary>
    public double Weather(in WearBin bin) =>
        bin.AmbientC is { } ambient ? (bin.Channel == WearChannel.NetFlow ? PerKelvin.NetFlow : PerKelvin.Tightness) * (ambient - UsualAmbientC) : 0;

    public double VarianceOf(WearChannel channel) => channel == WearChannel.NetFlow ? BinVariance.NetFlow : BinVariance.Tightness;
}
