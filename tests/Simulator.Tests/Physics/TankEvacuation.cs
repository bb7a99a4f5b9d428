namespace Vanehour.Simulator.Physics;

/// <summary>
/// The evacuation of a closed tank by a displacement pump with linear slip: V dp/dt = -S p + C (p_a - p), p absolute.
/// In gauge vacuum v = p_a - p that is v(t) = v_u - (v_u - v0) exp(-k t) with k = (S + C)/V and v_u = p_a S/(S + C).
/// </summary>
/// <remarks>
/// Isothermal ideal gas. With C = 0 it is the textbook t = (V/S) ln(p0/p1) ([OHanlon] J. F. O'Hanlon, A User's Guide to Vacuum Technology; from memory).
/// </remarks>
/// <param name="AmbientKPa">Ambient pressure p_a, kPa absolute; above 0.</param>
/// <param name="FlowM3PerS">Displaced flow S, m3/s; above 0.</param>
/// <param name="LeakM3PerS">Slip and leak conductance C, m3/s; 0 or more.</param>
/// <param name="VolumeM3">Gas volume V, m3; above 0.</param>
internal readonly record struct TankEvacuation(double AmbientKPa, double FlowM3PerS, double LeakM3PerS, double VolumeM3)
{
    /// <summary>k, 1/s.</summary>
    public double RatePerS => (FlowM3PerS + LeakM3PerS) / VolumeM3;

    /// <summary>The vacuum approached in the end, kPa below ambient.</summary>
    public double UltimateKPa => AmbientKPa * FlowM3PerS / (FlowM3PerS + LeakM3PerS);

    /// <summary>The vacuum after some seconds, kPa below ambient; exact for any step.</summary>
    public double VacuumAfter(double startKPa, double seconds)
    {
        var ultimate = UltimateKPa;
        return ultimate - ((ultimate - startKPa) * Math.Exp(-RatePerS * seconds));
    }

    /// <summary>Seconds from one vacuum to a deeper one; infinite when it is at or beyond the ultimate.</summary>
    public double SecondsTo(double startKPa, double endKPa)
    {
        var ultimate = UltimateKPa;
        return endKPa >= ultimate ? double.PositiveInfinity : Math.Log((ultimate - startKPa) / (ultimate - endKPa)) / RatePerS;
    }

    /// <summary>Net flow into the pump at a vacuum, S - C v/(p_a - v), m3/s.</summary>
    public double NetFlowM3PerS(double vacuumKPa) => FlowM3PerS - (LeakM3PerS * vacuumKPa / (AmbientKPa - vacuumKPa));
}
