using MathNet.Numerics.LinearAlgebra;

namespace Vanehour.Models.RemainingLife;

/// <summary>One number of all indicators: what a straight line makes of remaining life from a single row. Less noisy than any of them, and so a good thing to take windows of.</summary>
internal sealed class HealthIndex
{
    // Ridge per row on indicators of standard deviation 1: none of them may be a copy of others; of our own.
    private const double Ridge = 1e-4;

    private readonly double[] means;
    private readonly double[] sds;
    private readonly double[] slopes;
    private readonly double mean;

    private HealthIndex(double[] means, double[] sds, double[] slopes, double mean)
    {
        this.means = means;
        this.sds = sds;
        this.slopes = slopes;
        this.mean = mean;
    }

    public static HealthIndex Learn(IReadOnlyList<UnitHistory> units, double cap)
    {
        var width = units[0].Indicators[0].Count;
        var rows = units.SelectMany(u => u.Indicators.Select((row, t) => (Row: row, Left: Math.Min(cap, u.EndsAtAge!.Value - u.Ages[t])))).ToList();
        var means = new double[width];
        var sds = new double[width];
        for (var k = 0; k < width; k++)
        {
            var known = rows.Select(r => r.Row[k]).Where(double.IsFinite).ToList();
            means[k] = known.Count == 0 ? 0 : known.Average();
            var sd = known.Count == 0 ? 0 : Math.Sqrt(known.Average(v => (v - means[k]) * (v - means[k])));
            sds[k] = sd > 1e-9 * Math.Max(1, Math.Abs(means[k])) ? sd : double.PositiveInfinity;
        }

        var mean = rows.Average(r => r.Left);
        var products = Matrix<double>.Build.Dense(width, width);
        var targets = Vector<double>.Build.Dense(width);
        var z = new double[width];
        foreach (var (row, left) in rows)
        {
            Scale(row, means, sds, z);
            for (var i = 0; i < width; i++)
            {
                targets[i] += z[i] * (left - mean);
                for (var j = 0; j <= i; j++)
                {
                    products[i, j] += z[i] * z[j];
                }
            }
        }

        for (var i = 0; i < width; i++)
        {
            products[i, i] += Ridge * rows.Count;
            for (var j = 0; j < i; j++)
            {
                products[j, i] = products[i, j];
            }
        }

        return new HealthIndex(means, sds, [.. products.Cholesky().Solve(targets)], mean);
    }

    /// <summary>The index at each age, in units of age.</summary>
    public double[] Of(UnitHistory unit)
    {
        var index = new double[unit.Ages.Count];
        var z = new double[means.Length];
        for (var t = 0; t < index.Length; t++)
        {
            Scale(unit.Indicators[t], means, sds, z);
            index[t] = mean + z.Zip(slopes, (v, b) => v * b).Sum();
        }

        return index;
    }

    private static void Scale(IReadOnlyList<double> row, double[] means, double[] sds, double[] z)
    {
        for (var k = 0; k < z.Length; k++)
        {
            // What was not measured, or never changes, is taken at the mean.
            z[k] = double.IsFinite(row[k]) ? (row[k] - means[k]) / sds[k] : 0;
        }
    }
}
