namespace Vanehour.Models.RemainingLife;

/// <summary>Reads each indicator over windows back from an age: its mean, and its slope against age.</summary>
internal sealed class IndicatorWindows
{
    // Fewer points have no slope to speak of; of our own.
    private const int FewestForSlope = 5;

    private readonly double[] ages;
    private readonly Sums[][] sums;
    private readonly double[] windows;

    /// <param name="history">The unit.</param>
    /// <param name="index">A further indicator, one value an age.</param>
    /// <param name="windows">Lengths of the windows in units of age.</param>
    public IndicatorWindows(UnitHistory history, double[] index, IReadOnlyList<double> windows)
    {
        ages = [.. history.Ages];
        this.windows = [.. windows];
        var width = history.Indicators[0].Count;
        sums = new Sums[width + 1][];
        for (var k = 0; k <= width; k++)
        {
            var running = default(Sums);
            sums[k] = new Sums[ages.Length + 1];
            for (var t = 0; t < ages.Length; t++)
            {
                running = running.With(ages[t] - ages[0], k < width ? history.Indicators[t][k] : index[t]);
                sums[k][t + 1] = running;
            }
        }
    }

    public int Count => ages.Length;

    /// <summary>Age, then for each window and indicator mean and slope; NaN where they cannot be told.</summary>
    /// <param name="at">Which age; nothing later is looked at.</param>
    public float[] At(int at)
    {
        var features = new List<float>(1 + (2 * windows.Length * sums.Length)) { (float)ages[at] };
        foreach (var window in windows)
        {
            var from = at;
            while (from > 0 && ages[from - 1] > ages[at] - window)
            {
                from--;
            }

            foreach (var ofOne in sums)
            {
                var inside = ofOne[at + 1].Less(ofOne[from]);
                features.Add((float)inside.Mean);
                features.Add((float)(inside.N < FewestForSlope ? double.NaN : inside.Slope));
            }
        }

        return [.. features];
    }

    private readonly record struct Sums(double N, double A, double X, double Aa, double Ax)
    {
        public double Mean => N == 0 ? double.NaN : X / N;

        public double Slope => ((N * Ax) - (A * X)) / ((N * Aa) - (A * A));

        public Sums With(double a, double x) => double.IsFinite(x) ? new Sums(N + 1, A + a, X + x, Aa + (a * a), Ax + (a * x)) : this;

        public Sums Less(Sums o) => new(N - o.N, A - o.A, X - o.X, Aa - o.Aa, Ax - o.Ax);
    }
}
