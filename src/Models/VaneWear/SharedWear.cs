namespace Vanehour.Models.VaneWear;

/// <summary>What all lives share.</summary>
/// <param name="WanderPer1000H">Variance of ln rate that 1 000 h add.</param>
/// <param name="FlowPer1000H">Variance of ln displaced flow that 1 000 h add: what gets in the flow's way, a gauge that drifts.</param>
/// <param name="BinVariance">Variance of a bin beyond the scatter of its checks, by channel.</param>
/// <param name="Correlation">Correlation of the two channels of one bin: both are read from the same checks.</param>
/// <param name="PerKelvin">Change of each channel per kelvin of ambient temperature.</param>
/// <param name="Strains">What speed, heat and poor lubrication do to ln rate; 0 for what does not stand out.</param>
/// <param name="Early">How wear begins in a life.</param>
/// <param name="Late">How wear goes on late in a life.</param>
internal sealed record SharedWear(
    double WanderPer1000H,
    double FlowPer1000H,
    (double NetFlow, double Tightness) BinVariance,
    double Correlation,
    (double NetFlow, double Tightness) PerKelvin,
    Strain Strains,
    EarlyCurve Early,
    LateCurve Late)
{
    // Checks are brought to this ambient temperature; of our own.
    private const double UsualAmbientC = 15;

    /// <summary>What the weather does to a bin.</summary>
    public double Weather(in WearBin bin) =>
        bin.AmbientC is { } ambient ? (bin.Channel == WearChannel.NetFlow ? PerKelvin.NetFlow : PerKelvin.Tightness) * (ambient - UsualAmbientC) : 0;

    public double VarianceOf(WearChannel channel) => channel == WearChannel.NetFlow ? BinVariance.NetFlow : BinVariance.Tightness;
}
