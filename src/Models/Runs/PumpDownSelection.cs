using Vanehour.Models.Regression;

namespace Vanehour.Models.Runs;

/// <summary>The samples of a rise and which of them are fitted.</summary>
internal sealed class PumpDownSelection(ReadOnlySpan<double> times, ReadOnlySpan<double> vacuum)
{
    // Parameters are scaled to near 1, and the fit is refined afterwards.
    private const double StepTolerance = 1e-8;

    private readonly double[] t = times.ToArray();
    private readonly double[] v = vacuum.ToArray();
    private readonly double[] work = new double[times.Length];
    private bool[] taken = new bool[times.Length];

    public int Count { get; private set; }

    public int SetAside { get; private set; }

    public double First => t[Array.IndexOf(taken, true)];

    public double Last => t[Array.LastIndexOf(taken, true)];

    /// <summary>The first choice, by the samples themselves: from the last one at or below <paramref name="lowest"/> before <paramref name="end"/>.</summary>
    public void TakeWhere(double lowest, int end)
    {
        Array.Clear(taken);
        SetAside = 0;
        var from = 0;
        for (var i = 0; i < end; i++)
        {
            // A sample at the bottom between two higher ones is a spike, not the start.
            if (v[i] <= lowest && (i == 0 || v[i - 1] <= 2 * lowest))
            {
                from = i + 1;
            }
        }

        Count = Math.Max(end - from, 0);
        for (var i = from; i < end; i++)
        {
            taken[i] = true;
        }
    }

    /// <summary>Starting values by a straight line through -ln(1 - v/v_u) for a guessed ultimate.</summary>
    public void Guess(double ultimate, FitScale scale, Span<double> start)
    {
        double n = 0, st = 0, sy = 0, stt = 0, sty = 0;
        for (var i = 0; i < t.Length; i++)
        {
            if (taken[i] && v[i] < 0.99 * ultimate)
            {
                var x = (t[i] - scale.OriginS) / scale.S;
                var y = -Math.Log(1 - (v[i] / ultimate));
                n++;
                st += x;
                sy += y;
                stt += x * x;
                sty += x * y;
            }
        }

        var spread = (n * stt) - (st * st);
        var k = spread > 0 ? ((n * sty) - (st * sy)) / spread : 1;
        k = k > 0.01 ? k : 1;
        start[0] = k * ultimate / scale.KPa;
        start[1] = k;
        start[2] = (st - (sy / k)) / Math.Max(n, 1);
    }

    public NonlinearFit FitCurve(FitScale scale, ReadOnlySpan<double> start)
    {
        var (x, y) = Scaled(scale);
        return NonlinearLeastSquares.Fit(PumpDownCurve.Value, PumpDownCurve.Gradient, x, y, start, stepTolerance: StepTolerance, startIsNear: true);
    }

    /// <summary>Fits slope and start alone, the ultimate being held: k = a / v_u.</summary>
    public NonlinearFit FitHeld(FitScale scale, ReadOnlySpan<double> start, double ultimate)
    {
        var (x, y) = Scaled(scale);
        return NonlinearLeastSquares.Fit(
            (p, at) => PumpDownCurve.Value([p[0], p[0] / ultimate, p[1]], at),
            (p, at, g) =>
            {
                Span<double> all = stackalloc double[3];
                PumpDownCurve.Gradient([p[0], p[0] / ultimate, p[1]], at, all);
                g[0] = all[0] + (all[1] / ultimate);
                g[1] = all[2];
            },
            x,
            y,
            start);
    }

    /// <summary>Chooses again by the fitted curve and sets spikes aside.</summary>
    /// <returns>Whether the choice changed.</returns>
    public bool Reselect(ReadOnlySpan<double> estimates, FitScale scale, double lowest, double upper, int latest)
    {
        var slope = estimates[0] * scale.KPa / scale.S;
        var rate = estimates[1] / scale.S;
        var start = scale.TimeS(estimates[2]);
        var from = PumpDownCurve.TimeOf(slope, rate, start, lowest);
        var to = PumpDownCurve.TimeOf(slope, rate, start, upper);
        var next = new bool[t.Length];
        var inside = 0;
        Span<double> p = [slope, rate, start];
        for (var i = 0; i < latest; i++)
        {
            if (t[i] >= from && t[i] <= to)
            {
                next[i] = true;
                work[inside++] = Math.Abs(v[i] - PumpDownCurve.Value(p, t[i]));
            }
        }

        if (inside < PumpDownFitter.FewestSamples)
        {
            return false;
        }

        Array.Sort(work, 0, inside);
        var median = (work[(inside - 1) / 2] + work[inside / 2]) / 2;
        var few = 1 + (5.0 / Math.Max(inside - 3, 1));
        var limit = PumpDownFitter.SpikeFactor * Math.Max(PumpDownFitter.SmallestScaleKPa, 1.4826 * median * few);
        var kept = 0;
        for (var i = 0; i < latest; i++)
        {
            next[i] = next[i] && Math.Abs(v[i] - PumpDownCurve.Value(p, t[i])) <= limit;
            kept += next[i] ? 1 : 0;
        }

        if (kept < PumpDownFitter.FewestSamples || next.AsSpan().SequenceEqual(taken))
        {
            return false;
        }

        (taken, Count, SetAside) = (next, kept, inside - kept);
        return true;
    }

    private (double[] X, double[] Y) Scaled(FitScale scale)
    {
        var x = new double[Count];
        var y = new double[Count];
        var n = 0;
        for (var i = 0; i < t.Length; i++)
        {
            if (taken[i])
            {
                x[n] = (t[i] - scale.OriginS) / scale.S;
                y[n++] = v[i] / scale.KPa;
            }
        }

        return (x, y);
    }
}
