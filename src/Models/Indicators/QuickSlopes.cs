using System.Collections.Immutable;
using MathNet.Numerics.LinearAlgebra;

namespace Vanehour.Models.Indicators;

/// <summary>
/// Slopes within pumps without errors or checks, by normal equations over flat arrays: for the rounds of a robust fit whose outcome only says who is an outlier. The fit that
/// counts is made by <see cref="Regression.WeightedLeastSquares"/>.
/// </summary>
internal sealed class QuickSlopes
{
    private readonly int _columns;
    private readonly double[] _x;
    private readonly double[] _seen;
    private readonly double[] _weight;
    private readonly int[] _group;
    private readonly int[] _pumps;

    public QuickSlopes(IReadOnlyList<IndicatorObservation> observations, int columns)
    {
        _columns = columns;
        _x = new double[observations.Count * columns];
        _seen = new double[observations.Count];
        _weight = new double[observations.Count];
        _group = new int[observations.Count];
        var groups = new Dictionary<int, int>();
        for (var i = 0; i < observations.Count; i++)
        {
            var o = observations[i];
            o.Predictors.AsSpan(0, columns).CopyTo(_x.AsSpan(i * columns));
            _seen[i] = o.Seen;
            _weight[i] = o.Weight;
            if (!groups.TryGetValue(o.Pump, out var group))
            {
                group = groups.Count;
                groups.Add(o.Pump, group);
            }

            _group[i] = group;
        }

        _pumps = new int[groups.Count];
        foreach (var (pump, group) in groups)
        {
            _pumps[group] = pump;
        }
    }

    /// <summary>Residuals of every run brought to weight 1, in <paramref name="residuals"/>; false where the slopes are not determined.</summary>
    /// <param name="robust">A factor on the weight of each run, 0 or more.</param>
    /// <param name="scales">Noise of a run of weight 1 by pump; one that is missing counts as 1.</param>
    /// <param name="residuals">Written.</param>
    public bool TryResiduals(double[] robust, ImmutableDictionary<int, double> scales, double[] residuals)
    {
        var means = Means(robust);
        var normal = new double[_columns, _columns];
        var right = new double[_columns];
        var precision = Array.ConvertAll(_pumps, p => 1 / (scales.GetValueOrDefault(p, 1) * scales.GetValueOrDefault(p, 1)));
        var centred = new double[_columns];
        for (var i = 0; i < _seen.Length; i++)
        {
            var w = _weight[i] * robust[i] * precision[_group[i]];
            if (w <= 0)
            {
                continue;
            }

            var y = Centre(i, means, centred);
            for (var a = 0; a < _columns; a++)
            {
                right[a] += w * centred[a] * y;
                for (var b = 0; b <= a; b++)
                {
                    normal[a, b] += w * centred[a] * centred[b];
                }
            }
        }

        if (Solve(normal, right) is not { } slopes)
        {
            return false;
        }

        for (var i = 0; i < _seen.Length; i++)
        {
            var left = Centre(i, means, centred);
            for (var a = 0; a < _columns; a++)
            {
                left -= slopes[a] * centred[a];
            }

            residuals[i] = Math.Sqrt(_weight[i]) * left;
        }

        return true;
    }

    private double Centre(int i, double[] means, double[] centred)
    {
        var mean = _group[i] * (_columns + 1);
        for (var a = 0; a < _columns; a++)
        {
            centred[a] = _x[(i * _columns) + a] - means[mean + a];
        }

        return _seen[i] - means[mean + _columns];
    }

    // Each pump's weighted means of the predictors, then of what was seen. A pump whose every run was set aside keeps its plain means.
    private double[] Means(double[] robust)
    {
        var width = _columns + 1;
        var sums = new double[_pumps.Length * width];
        var total = new double[_pumps.Length];
        for (var i = 0; i < _seen.Length; i++)
        {
            total[_group[i]] += _weight[i] * robust[i];
        }

        var isAside = Array.ConvertAll(total, t => t <= 0);
        Array.Clear(total);
        for (var i = 0; i < _seen.Length; i++)
        {
            var w = _weight[i] * (isAside[_group[i]] ? 1 : robust[i]);
            total[_group[i]] += w;
            var at = _group[i] * width;
            for (var a = 0; a < _columns; a++)
            {
                sums[at + a] += w * _x[(i * _columns) + a];
            }

            sums[at + _columns] += w * _seen[i];
        }

        for (var k = 0; k < sums.Length; k++)
        {
            sums[k] /= total[k / width];
        }

        return sums;
    }

    private double[]? Solve(double[,] normal, double[] right)
    {
        if (_columns == 0)
        {
            return [];
        }

        // Columns of very different size are brought to one before the equations are solved.
        var size = new double[_columns];
        for (var a = 0; a < _columns; a++)
        {
            size[a] = Math.Sqrt(normal[a, a]);
            if (!(size[a] > 0))
            {
                return null;
            }
        }

        var matrix = Matrix<double>.Build.Dense(_columns, _columns, (a, b) => normal[Math.Max(a, b), Math.Min(a, b)] / (size[a] * size[b]));
        try
        {
            var solved = matrix.Cholesky().Solve(Vector<double>.Build.Dense(_columns, a => right[a] / size[a]));
            var slopes = new double[_columns];
            for (var a = 0; a < _columns; a++)
            {
                slopes[a] = solved[a] / size[a];
                if (!double.IsFinite(slopes[a]))
                {
                    return null;
                }
            }

            return slopes;
        }
        catch (ArgumentException)
        {
            // Not positive definite: two conditions that move together.
            return null;
        }
    }
}
