namespace Vanehour.Models.Survival;

/// <summary>The logarithm of the chance to fail between two ages, and its derivatives, for the smallest-extreme-value distribution of the logarithm of life.</summary>
/// <remarks>
/// With the upper end at z and the lower at z - width, it is log(exp(-l) - exp(-r)), r = exp z, l = exp(z - width). Upper end and width are taken as the variables, not the two ends,
/// whose terms would cancel for narrow intervals.
/// </remarks>
internal readonly struct IntervalTerm
{
    // exp(-d) is 0 in doubles well before; beyond it d might be infinite and make 0 times infinity.
    private const double Certain = 1000;

    /// <param name="z">Standardised logarithm of the upper end.</param>
    /// <param name="width">Of the interval, on the same scale, above 0; infinite where the lower end is age 0.</param>
    public IntervalTerm(double z, double width)
    {
        var lower = Math.Exp(z - width);
        var d = Math.Min(-Math.Exp(z) * ExpMinusOne(-width), Certain);

        // With d = r - l and w = 1/(exp d - 1): w d falls from 1 to 0 and 1 + w = 1/(1 - exp(-d)).
        var share = 1 / -ExpMinusOne(-d);
        var wd = d * Math.Exp(-d) * share;
        Value = Math.Log(-ExpMinusOne(-d)) - lower;
        Slope = wd - lower;
        Bend = (wd * (1 - (share * d))) - lower;
        WidthSlope = lower * share;
        MixedBend = lower * share * (1 - wd);
        WidthBend = -lower * share * (1 + (lower * (share - 1)));
    }

    /// <summary>The logarithm of the chance.</summary>
    public double Value { get; }

    /// <summary>Its derivative by z.</summary>
    public double Slope { get; }

    /// <summary>Its second derivative by z.</summary>
    public double Bend { get; }

    /// <summary>Its derivative by the width.</summary>
    public double WidthSlope { get; }

    /// <summary>Its derivative by z and the width.</summary>
    public double MixedBend { get; }

    /// <summary>Its second derivative by the width.</summary>
    public double WidthBend { get; }

    /// <summary>
    /// exp(x) - 1 to the last digits. MathNet's is good to nine near 0.1, and the framework's subtracts. [Higham] N. J. Higham, Accuracy and Stability of Numerical
    /// Algorithms, 2002, section 1.14.1.
    /// </summary>
    private static double ExpMinusOne(double x)
    {
        var e = Math.Exp(x);
        return e == 1 ? x : e == 0 ? -1 : (e - 1) * (x / Math.Log(e));
    }
}
