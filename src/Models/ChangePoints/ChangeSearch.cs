using MathNet.Numerics.LinearAlgebra;
using Vanehour.Models.Regression;

namespace Vanehour.Models.ChangePoints;

/// <summary>
/// Finds steps and changes of slope in a row of values: a straight line (or a level) to which the change that explains most is added, one after
/// another, as long as it explains enough. What a step explains is compared with what a change of slope explains, so that the two are told apart.
/// </summary>
/// <remarks>
/// Forward selection by weighted least squares. Values far from the median of their neighbours weigh less, so that one or two wild ones make no step, and
/// a step loses no weight to the line that does not know it yet. What adding a column z explains is
/// (z'Wr)^2 / (z'Wz - its part in the columns before), by the Frisch-Waugh theorem; with running sums a round costs O(n).
/// </remarks>
public static class ChangeSearch
{
    // Neighbours on each side that a value is compared with, and the distance in standard deviations from which it weighs less; of our own.
    private const int Neighbours = 3;
    private const double WildFromSd = 4;

    /// <summary>The changes of a row, in order of time; empty for rows too short or without any.</summary>
    /// <param name="series">The row.</param>
    /// <param name="options">When a change counts.</param>
    /// <exception cref="ArgumentException">The row is not sound; see <see cref="ChangeSeries.Validate"/>.</exception>
    public static IReadOnlyList<ChangePoint> Find(ChangeSeries series, ChangeSearchOptions options)
    {
        ArgumentNullException.ThrowIfNull(series);
        ArgumentNullException.ThrowIfNull(options);
        series.Validate();
        var found = new List<(ChangeKind Kind, int After, double Evidence, double Preference)>();
        var row = new Row(series, options);
        while (found.Count < options.MostChanges && series.Count >= (2 * options.FewestEachSide) + found.Count + 2)
        {
            var fit = row.Fit([.. found.Select(f => (f.Kind, f.After))]);
            var step = row.Best(fit, ChangeKind.Step, found);
            var drift = row.Best(fit, ChangeKind.Drift, found);
            var (better, other) = step.Evidence >= drift.Evidence ? (step, drift) : (drift, step);
            if (better.After < 0 || better.Evidence < options.LeastEvidenceOf(series.Count))
            {
                break;
            }

            found.Add((better.Kind, better.After, better.Evidence, better.Evidence - Math.Max(0, other.Evidence)));
        }

        if (found.Count == 0)
        {
            return [];
        }

        var final = row.Fit([.. found.Select(f => (f.Kind, f.After))]);
        return
        [
            .. found.Select((f, i) => new ChangePoint(f.Kind, f.After, final.Size(i), final.SizeSe(i), f.Evidence, f.Preference))
                .Where(c => Math.Abs(c.Size) >= options.MattersFrom)
                .OrderBy(c => c.After),
        ];
    }

    private sealed record RowFit(double[][] Columns, double[] Weights, double[] Residuals, double[] Estimates, Matrix<double> Inverse, double Scale, int Before)
    {
        /// <summary>Size of change number i: the columns of changes are scaled so that it is their coefficient.</summary>
        public double Size(int i) => Estimates[Before + i];

        public double SizeSe(int i) => Scale * Math.Sqrt(Inverse[Before + i, Before + i]);
    }

    private sealed class Row
    {
        private readonly ChangeSearchOptions _options;
        private readonly double[] _values;
        private readonly double[] _precision;

        // From 0 to 1, so that a change of slope is measured by what it makes by the last value of a row that changed at its beginning.
        private readonly double[] _time;

        public Row(ChangeSeries series, ChangeSearchOptions options)
        {
            _options = options;
            _values = [.. series.Values];
            _precision = [.. series.StandardErrors.Select(s => 1 / (s * s))];
            var mean = _precision.Length == 0 ? 1 : _precision.Average();
            for (var i = 0; i < _precision.Length; i++)
            {
                _precision[i] /= mean;
            }

            var span = series.Count == 0 ? 0 : series.Times[^1] - series.Times[0];
            Tame();
            _time = [.. series.Times.Select((t, i) => span > 0 ? (t - series.Times[0]) / span : (double)i / Math.Max(1, series.Count - 1))];
        }

        private int Count => _values.Length;

        public RowFit Fit((ChangeKind Kind, int After)[] changes)
        {
            var columns = new List<double[]> { Enumerable.Repeat(1.0, Count).ToArray() };
            if (_options.HasSlope)
            {
                columns.Add(_time);
            }

            var before = columns.Count;
            columns.AddRange(changes.Select(c => Column(c.Kind, c.After)));
            double[][] x = [.. columns];
            var (estimates, inverse, residuals) = Solve(x, _precision);
            return new RowFit(x, _precision, residuals, estimates, inverse, Scale(residuals, x.Length), before);
        }

        public (ChangeKind Kind, int After, double Evidence) Best(
            RowFit fit, ChangeKind kind, List<(ChangeKind Kind, int After, double Evidence, double Preference)> taken)
        {
            var p = fit.Columns.Length;
            var n = Count;

            // Sums over the values after the change, taken from the end.
            double w = 0, wt = 0, wtt = 0, wr = 0, wtr = 0;
            var wx = new double[p];
            var wtx = new double[p];
            var cross = new double[p];
            var best = (Kind: kind, After: -1, Evidence: 0.0);
            for (var i = n - 1; i > 0; i--)
            {
                var weight = fit.Weights[i];
                var t = _time[i];
                var r = fit.Residuals[i];
                w += weight;
                wt += weight * t;
                wtt += weight * t * t;
                wr += weight * r;
                wtr += weight * t * r;
                for (var j = 0; j < p; j++)
                {
                    wx[j] += weight * fit.Columns[j][i];
                    wtx[j] += weight * t * fit.Columns[j][i];
                }

                var after = i - 1;
                if (n - i < _options.FewestEachSide || i < _options.FewestEachSide || taken.Any(c => Math.Abs(c.After - after) < _options.FewestEachSide))
                {
                    continue;
                }

                // A change of slope begins at the last value before it.
                var t0 = _time[after];
                double zz, zr;
                if (kind == ChangeKind.Step)
                {
                    (zz, zr) = (w, wr);
                    wx.CopyTo(cross, 0);
                }
                else
                {
                    zz = wtt - (2 * t0 * wt) + (t0 * t0 * w);
                    zr = wtr - (t0 * wr);
                    for (var j = 0; j < p; j++)
                    {
                        cross[j] = wtx[j] - (t0 * wx[j]);
                    }
                }

                var own = zz;
                for (var a = 0; a < p; a++)
                {
                    for (var b = 0; b < p; b++)
                    {
                        own -= cross[a] * fit.Inverse[a, b] * cross[b];
                    }
                }

                if (own <= 1e-9 * zz)
                {
                    continue;
                }

                var evidence = zr * zr / own / (fit.Scale * fit.Scale) * (1 - _options.Rho) / (1 + _options.Rho);
                if (evidence > best.Evidence)
                {
                    best = (kind, after, evidence);
                }
            }

            return best;
        }

        private void Tame()
        {
            if (Count < (2 * Neighbours) + 1)
            {
                return;
            }

            var apart = new double[Count];
            for (var i = 0; i < Count; i++)
            {
                var from = Math.Clamp(i - Neighbours, 0, Count - (2 * Neighbours) - 1);
                apart[i] = (_values[i] - Robust.Median(_values.Skip(from).Take((2 * Neighbours) + 1))) * Math.Sqrt(_precision[i]);
            }

            var wildFrom = WildFromSd * Robust.SpreadAboutZero(apart);
            for (var i = 0; i < Count; i++)
            {
                if (Math.Abs(apart[i]) > wildFrom)
                {
                    _precision[i] *= wildFrom * wildFrom / (apart[i] * apart[i]);
                }
            }
        }

        private double[] Column(ChangeKind kind, int after)
        {
            var t0 = _time[after];
            var length = _time[^1] - t0;
            return
            [
                .. Enumerable.Range(0, Count).Select(i => i <= after ? 0 : kind == ChangeKind.Step ? 1 : length > 0 ? (_time[i] - t0) / length : 0),
            ];
        }

        private (double[] Estimates, Matrix<double> Inverse, double[] Residuals) Solve(double[][] x, double[] weights)
        {
            var p = x.Length;
            var normal = Matrix<double>.Build.Dense(p, p);
            var right = Vector<double>.Build.Dense(p);
            for (var a = 0; a < p; a++)
            {
                for (var i = 0; i < Count; i++)
                {
                    right[a] += weights[i] * x[a][i] * _values[i];
                    for (var b = 0; b <= a; b++)
                    {
                        normal[a, b] += weights[i] * x[a][i] * x[b][i];
                    }
                }
            }

            for (var a = 0; a < p; a++)
            {
                for (var b = a + 1; b < p; b++)
                {
                    normal[a, b] = normal[b, a];
                }

                // Columns that a row of equal times makes equal: a trace of ridge keeps the inverse finite without moving an estimate.
                normal[a, a] *= 1 + 1e-12;
            }

            var inverse = normal.Inverse();
            double[] estimates = [.. inverse * right];
            var residuals = new double[Count];
            for (var i = 0; i < Count; i++)
            {
                var fitted = 0.0;
                for (var a = 0; a < p; a++)
                {
                    fitted += estimates[a] * x[a][i];
                }

                residuals[i] = _values[i] - fitted;
            }

            return (estimates, inverse, residuals);
        }

        // Steps hide in the residuals of a fit without them, so the noise is read from neighbours' differences where that is smaller.
        private double Scale(double[] residuals, int p)
        {
            var about = new double[Count];
            var between = new double[Count - 1];
            for (var i = 0; i < Count; i++)
            {
                about[i] = residuals[i] * Math.Sqrt(_precision[i]);
                if (i > 0)
                {
                    between[i - 1] = (about[i] - about[i - 1]) / Math.Sqrt(2 * (1 - _options.Rho));
                }
            }

            var lost = Math.Sqrt((double)Count / Math.Max(1, Count - p));
            var scale = Math.Min(Clipped(about) * lost, Clipped(between));

            // Values rounded to one another leave no spread at all.
            return Math.Max(scale, 1e-9 * (1 + _values.Max(Math.Abs)));
        }

        // Of all values, but none counts beyond three robust standard deviations: steadier than the median's own. E min(z^2, 9) of a normal z is 0.995.
        private static double Clipped(double[] values)
        {
            var limit = 3 * Robust.SpreadAboutZero(values);
            return Math.Sqrt(values.Average(v => Math.Min(v * v, limit * limit)) / 0.995);
        }
    }
}
