namespace Vanehour.Models.Runs;

/// <summary>
/// v(t) = v_u (1 - exp(-k (t - t0))) written with the slope at the start, a = k v_u, in place of the ultimate: v = a (1 - exp(-k tau)) / k, tau = t - t0.
/// The flow is then a / p_a alone and the leak k - a / p_a, and a short, still straight rise is no special case.
/// </summary>
internal static class PumpDownCurve
{
    private const int Slope = 0;
    private const int Rate = 1;
    private const int Start = 2;

    /// <summary>Value at <paramref name="t"/>; parameters a, k, t0.</summary>
    public static double Value(ReadOnlySpan<double> p, double t)
    {
        var tau = t - p[Start];
        return p[Slope] * tau * Phi(p[Rate] * tau);
    }

    /// <summary>Derivatives of <see cref="Value"/>.</summary>
    public static void Gradient(ReadOnlySpan<double> p, double t, Span<double> gradient)
    {
        var tau = t - p[Start];
        var x = p[Rate] * tau;
        gradient[Slope] = tau * Phi(x);
        gradient[Rate] = p[Slope] * tau * tau * PhiSlope(x);
        gradient[Start] = -p[Slope] * Math.Exp(-x);
    }

    /// <summary>The instant at which the curve reaches <paramref name="v"/>; infinite where it never does.</summary>
    public static double TimeOf(double slope, double rate, double start, double v)
    {
        var x = rate * v / slope;
        if (x >= 1)
        {
            return double.PositiveInfinity;
        }

        // -ln(1 - x)/k with the limit v/a for a straight rise.
        return Math.Abs(x) < 1e-9 ? start + (v / slope) : start - (Log1p(-x) / rate);
    }

    /// <summary>(1 - exp(-x)) / x.</summary>
    private static double Phi(double x) =>
        Math.Abs(x) < 1e-4 ? 1 - (x / 2) + (x * x / 6) - (x * x * x / 24) : -Expm1(-x) / x;

    /// <summary>The derivative of <see cref="Phi"/>, ((1 + x) exp(-x) - 1) / x^2.</summary>
    private static double PhiSlope(double x) =>
        Math.Abs(x) < 1e-2
            ? -0.5 + (x / 3) - (x * x / 8) + (x * x * x / 30) - (x * x * x * x / 144) + (x * x * x * x * x / 840)
            : (Expm1(-x) + (x * Math.Exp(-x))) / (x * x);

    // [Kahan] The compensated forms: no cancellation for small arguments, and no more than rounding elsewhere.
    private static double Expm1(double x)
    {
        var u = Math.Exp(x);
        if (u == 1)
        {
            return x;
        }

        var less = u - 1;
        return less == -1 ? -1 : less * x / Math.Log(u);
    }

    private static double Log1p(double x)
    {
        var u = 1 + x;
        return u == 1 ? x : Math.Log(u) * x / (u - 1);
    }
}
