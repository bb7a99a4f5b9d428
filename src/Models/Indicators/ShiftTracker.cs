using Vanehour.Models.Regression;

namespace Vanehour.Models.Indicators;

/// <summary>
/// Follows a pump's deviations with a moving average (EWMA) and a cumulative sum (CUSUM), so that a lasting shift is told from single bad runs.
/// </summary>
public static class ShiftTracker
{
    private const int Recent = 3;

    /// <summary>Which runs belong to a lasting shift, one for each state of <see cref="Track"/>.</summary>
    public static bool[] Lasting(IReadOnlyList<ShiftState> states)
    {
        ArgumentNullException.ThrowIfNull(states);
        var lasting = new bool[states.Count];
        for (var i = states.Count - 1; i >= 0; i--)
        {
            // A shift is only seen some runs after it began: a run also belongs to it when the next one does and it leans the same way.
            lasting[i] = Math.Abs(states[i].Strength) >= 1
                || (i + 1 < lasting.Length && lasting[i + 1] && states[i].RunShows != 0 && states[i].RunShows == Math.Sign(states[i + 1].Average));
        }

        return lasting;
    }

    // A sum that may go no further than this many limits falls back soon after a repair. Of our own.
    private const double CusumCeiling = 1.25;

    /// <summary>The state after each run.</summary>
    /// <param name="runs">In order of time.</param>
    /// <param name="rho">Correlation of neighbouring runs' noise, 0 and below 1.</param>
    /// <param name="mattersFrom">What deviation matters, given the expectation.</param>
    /// <param name="options">Limits.</param>
    /// <param name="restarts">Instants at which a person dealt with the matter: the average starts again there.</param>
    public static IReadOnlyList<ShiftState> Track(
        IReadOnlyList<JudgedRun> runs,
        double rho,
        Func<double, double> mattersFrom,
        ShiftOptions options,
        IReadOnlyCollection<DateTimeOffset>? restarts = null)
    {
        ArgumentNullException.ThrowIfNull(runs);
        ArgumentNullException.ThrowIfNull(mattersFrom);
        ArgumentNullException.ThrowIfNull(options);
        var pending = new Queue<DateTimeOffset>((restarts ?? []).Order());
        var average = new Ewma(options.Lambda);
        var shift = new Ewma(options.Lambda);
        var cusum = new Cusum(options.CusumAllowanceSd, options.CusumLimitSd, CusumCeiling * options.CusumLimitSd);

        // Sums of values whose neighbours correlate spread as those of independent values with the long-run variance.
        var longRunSd = Math.Sqrt((1 + rho) / (1 - rho));
        var recent = new Queue<JudgedRun>(Recent);
        var states = new List<ShiftState>(runs.Count);
        foreach (var run in runs)
        {
            while (pending.TryPeek(out var restart) && restart <= run.Start)
            {
                pending.Dequeue();
                average.Reset();
                shift.Reset();
                cusum.Reset();
                recent.Clear();
            }

            var z = Math.Clamp(run.Deviation / run.NoiseSd, -options.RunCapSd, options.RunCapSd);
            average.Add(z);
            shift.Add(z * run.NoiseSd);
            if (recent.Count == Recent)
            {
                recent.Dequeue();
            }

            recent.Enqueue(run);

            // The average sees small shifts; the median of the last three sees large ones at once, and says better how large.
            var median = recent.Count == Recent ? Robust.Median(recent.Select(r => r.Deviation)) : 0;
            var sudden = recent.Count == Recent ? Robust.Median(recent.Select(r => r.Deviation / r.TotalSd)) / options.RunCapSd : 0;
            var lasting = Math.Abs(median) > Math.Abs(shift.Value) && (Math.Sign(median) == Math.Sign(average.Value) || Math.Abs(sudden) >= 1)
                ? median
                : shift.Value;
            var offset = run.OffsetSd / run.NoiseSd;
            cusum.Add(z / longRunSd, options.CusumAllowanceSd + (options.CusumLevelErrors * offset / longRunSd));
            var limit = options.LimitSd * Math.Sqrt((average.VarianceRatio * average.CorrelationFactor(rho)) + (offset * offset));
            states.Add(new ShiftState(run, average.Value, limit, sudden, lasting, mattersFrom(run.Expected))
            {
                CusumHigh = cusum.High / options.CusumLimitSd,
                CusumLow = cusum.Low / options.CusumLimitSd,
            });
        }

        return states;
    }
}
