using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;

namespace Vanehour.Models.Indicators;

/// <summary>
/// Average run lengths of control charts: how many values pass, on average, before a chart signals though nothing (or a shift) is there.
/// Values are independent normal with standard deviation 1.
/// </summary>
/// <remarks>
/// The chart is taken as a Markov chain on a grid of its statistic, and the average run length solves (I - Q) L = 1.
/// [BrookEvans] D. Brook and D. A. Evans, An approach to the probability distribution of CUSUM run length, Biometrika 59 (1972) 539-549.
/// [LucasSaccucci] J. M. Lucas and M. S. Saccucci, Exponentially weighted moving average control schemes, Technometrics 32 (1990) 1-12. Both from memory.
/// </remarks>
public static class RunLength
{
    private const int States = 201;

    /// <summary>Average run length of an EWMA that starts at 0 and signals beyond limit times its long-run standard deviation.</summary>
    /// <param name="lambda">Weight of the newest value, above 0 and at most 1.</param>
    /// <param name="limitSd">The limit in standard deviations of the average, above 0.</param>
    /// <param name="shift">Mean of the values, in their standard deviations.</param>
    /// <exception cref="ArgumentOutOfRangeException">A parameter is outside its range.</exception>
    public static double OfEwma(double lambda, double limitSd, double shift = 0)
    {
        if (lambda is not (> 0 and <= 1))
        {
            throw new ArgumentOutOfRangeException(nameof(lambda), lambda, "Must lie above 0 and not above 1.");
        }

        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(limitSd);
        var h = limitSd * Math.Sqrt(lambda / (2 - lambda));
        var width = 2 * h / States;
        return Solve(States, States / 2, (i, j) =>
        {
            var from = -h + ((i + 0.5) * width);
            var to = -h + (j * width);
            var low = ((to - ((1 - lambda) * from)) / lambda) - shift;
            return Between(low, low + (width / lambda));
        });
    }

    /// <summary>Average run length of one side of a CUSUM that starts at 0.</summary>
    /// <param name="allowance">k, in standard deviations of a value, 0 or more.</param>
    /// <param name="limit">h, in standard deviations of a value, above 0.</param>
    /// <param name="shift">Mean of the values towards that side, in their standard deviations.</param>
    /// <exception cref="ArgumentOutOfRangeException">A parameter is outside its range.</exception>
    public static double OfCusumSide(double allowance, double limit, double shift = 0)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(allowance);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(limit);

        // The lowest state holds everything that the maximum with 0 brings to 0; the others are half a width further.
        var width = 2 * limit / ((2 * States) - 1);
        return Solve(States, 0, (i, j) =>
        {
            var centre = (j - i) * width;
            var high = centre + (width / 2) + allowance - shift;
            return j == 0 ? Normal.CDF(0, 1, high) : Between(high - width, high);
        });
    }

    /// <summary>Average run length of a two-sided CUSUM: 1/L = 1/L(high) + 1/L(low), exact for k above 0 and independent values.</summary>
    /// <param name="allowance">k, in standard deviations of a value, 0 or more.</param>
    /// <param name="limit">h, in standard deviations of a value, above 0.</param>
    /// <param name="shift">Mean of the values, in their standard deviations.</param>
    /// <exception cref="ArgumentOutOfRangeException">A parameter is outside its range.</exception>
    public static double OfCusum(double allowance, double limit, double shift = 0) =>
        1 / ((1 / OfCusumSide(allowance, limit, shift)) + (1 / OfCusumSide(allowance, limit, -shift)));

    private static double Between(double low, double high) => Normal.CDF(0, 1, high) - Normal.CDF(0, 1, low);

    private static double Solve(int n, int start, Func<int, int, double> chance)
    {
        var system = Matrix<double>.Build.Dense(n, n, (i, j) => (i == j ? 1 : 0) - chance(i, j));
        return system.Solve(Vector<double>.Build.Dense(n, 1))[start];
    }
}
