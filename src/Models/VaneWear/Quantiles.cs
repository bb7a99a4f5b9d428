namespace Vanehour.Models.VaneWear;

/// <summary>Quantiles of draws, some of which may be infinite (never).</summary>
internal static class Quantiles
{
    /// <summary>The quantile at <paramref name="p"/> of values sorted upwards, between neighbours in proportion; infinite where a neighbour is.</summary>
    public static double Of(double[] sorted, double p)
    {
        var at = p * (sorted.Length - 1);
        var below = (int)at;
        var above = Math.Min(below + 1, sorted.Length - 1);
        return at == below || double.IsInfinity(sorted[below])
            ? sorted[below]
            : sorted[below] + ((at - below) * (sorted[above] - sorted[below]));
    }

    /// <summary>Sorts in place and reads 10, 50 and 90 %.</summary>
    public static (double P10, double P50, double P90) TenFiftyNinety(double[] values)
    {
        Array.Sort(values);
        return (Of(values, 0.1), Of(values, 0.5), Of(values, 0.9));
    }
}
