using System.Diagnostics.CodeAnalysis;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Runs;

/// <summary>
/// Fits v(t) = v_u (1 - exp(-k (t - t0))) to a rise of vacuum from near atmosphere, and reads displaced flow and leak over gas volume from it.
/// </summary>
/// <remarks>
/// From V dp/dt = -S p + C (p_a - p). With C = 0 it is the textbook pump-down t = (V/S) ln(p0/p1).
/// <list type="bullet">
/// <item>t0 is always fitted. The fitted stretch runs from <see cref="LowestFittedKPa"/> to 1.5 kPa or 3 %, whichever is more, below the plateau,
/// both cut in time where the fitted curve passes them: cutting where a noisy sample passes them would bias the fit.</item>
/// <item>Spikes: a sample further from the curve than 5 times the residuals' scale (1.4826 times their median absolute value, enlarged for few samples,
/// at least <see cref="SmallestScaleKPa"/>) is set aside and the rest fitted again, until the set stays the same, at most 5 times. Samples kept weigh the same, so that
/// the standard errors stay those of plain least squares.</item>
/// <item>With the plateau under <see cref="LowestPlateauForLeakKPa"/>, fewer than <see cref="FewestSamplesForLeak"/> samples, or a curve whose ultimate would be no pressure at all, the leak
/// cannot be told from the flow. The ultimate is then held at 0.90 of ambient with a standard deviation of 0.07 (invented from what healthy to worn pumps reach),
/// and what S moves by over that doubt is added to its error.</item>
/// </list>
/// </remarks>
public static class PumpDownFitter
{
    /// <summary>The fitted stretch starts where the curve passes this vacuum, kPa.</summary>
    public const double LowestFittedKPa = 3;

    /// <summary>Under this plateau the leak is unknown, kPa.</summary>
    public const double LowestPlateauForLeakKPa = 40;

    /// <summary>With fewer fitted samples the leak is unknown.</summary>
    public const int FewestSamplesForLeak = 8;

    /// <summary>Residuals are never taken to be finer than this when spikes are looked for, kPa.</summary>
    public const double SmallestScaleKPa = 0.05;

    internal const int FewestSamples = 3;
    private const int MaxPasses = 5;
    internal const double SpikeFactor = 5;
    private const double AssumedUltimateShare = 0.90;
    private const double AssumedUltimateSd = 0.07;

    // A fitted ultimate above ambient means a leak below zero; noise may do that a little, more than this is no identification at all.
    private const double HighestUltimateShare = 1.25;

    /// <summary>How far below the plateau the fit ends, kPa: 1.5 kPa or 3 %, whichever is more.</summary>
    public static double EndMarginKPa(double plateauKPa) => Math.Max(1.5, 0.03 * plateauKPa);

    /// <summary>Fits a rise.</summary>
    /// <param name="timesS">Instants in s on any clock, ascending; gaps are allowed. Samples before the rise and after the plateau's onset are passed over.</param>
    /// <param name="vacuumKPa">Vacuum at each instant, kPa below ambient; as many, finite.</param>
    /// <param name="plateauKPa">Where the rise ended, kPa below ambient; positive.</param>
    /// <param name="ambientKPa">Ambient pressure, kPa absolute; positive.</param>
    /// <returns>The fit; Degenerate with fewer than 3 samples in the fitted stretch, Failed where no curve comes near. Never an exception for data.</returns>
    /// <exception cref="ArgumentException">Lengths that do not match.</exception>
    /// <exception cref="ArgumentOutOfRangeException">Plateau or ambient not positive.</exception>
    public static PumpDownFit Fit(ReadOnlySpan<double> timesS, ReadOnlySpan<double> vacuumKPa, double plateauKPa, double ambientKPa)
    {
        if (timesS.Length != vacuumKPa.Length)
        {
            throw new ArgumentException("There must be as many vacuums as instants.", nameof(vacuumKPa));
        }

        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(plateauKPa);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(ambientKPa);

        var upper = plateauKPa - EndMarginKPa(plateauKPa);
        var end = FirstAbove(vacuumKPa, upper);
        var latest = FirstAbove(vacuumKPa, plateauKPa - (EndMarginKPa(plateauKPa) / 2));
        var data = new PumpDownSelection(timesS, vacuumKPa);
        data.TakeWhere(LowestFittedKPa, end);
        if (data.Count < FewestSamples)
        {
            return Nothing(FitStatus.Degenerate, ambientKPa, data.Count, "Too few samples between atmosphere and plateau: sample faster.");
        }

        return FitFree(data, upper, latest, plateauKPa, ambientKPa, out var free)
            ? free
            : FitWithAssumedUltimate(data, end, upper, latest, plateauKPa, ambientKPa);
    }

    private static bool FitFree(
        PumpDownSelection data, double upper, int latest, double plateauKPa, double ambientKPa, [NotNullWhen(true)] out PumpDownFit? result)
    {
        result = null;
        if (plateauKPa < LowestPlateauForLeakKPa || data.Count < FewestSamplesForLeak)
        {
            return false;
        }

        // Time in units of the stretch and vacuum in units of the plateau: every parameter is near 1.
        var scale = new FitScale(data.First, data.Last - data.First, plateauKPa);
        Span<double> start = stackalloc double[3];
        data.Guess(Math.Max(1.05 * plateauKPa, AssumedUltimateShare * ambientKPa), scale, start);
        var fit = data.FitCurve(scale, start);
        for (var pass = 1; pass < MaxPasses && fit.Status == FitStatus.Converged; pass++)
        {
            if (!data.Reselect(fit.Estimates.AsSpan(), scale, LowestFittedKPa, upper, latest) || data.Count < FewestSamplesForLeak)
            {
                break;
            }

            fit = data.FitCurve(scale, fit.Estimates.AsSpan());
        }

        if (fit.Status != FitStatus.Converged || data.Count < FewestSamplesForLeak)
        {
            return false;
        }

        var slope = fit.Estimates[0] * scale.KPa / scale.S;
        var rate = fit.Estimates[1] / scale.S;
        if (!(slope > 0) || !(rate > 0) || slope / rate > HighestUltimateShare * ambientKPa)
        {
            return false;
        }

        // Exactly linear in slope and rate: S/V = a/p_a, C/V = k - a/p_a.
        var slopeVariance = fit.CovarianceOf(0, 0) * Square(scale.KPa / scale.S / ambientKPa);
        var rateVariance = fit.CovarianceOf(1, 1) / Square(scale.S);
        var cross = fit.CovarianceOf(0, 1) * scale.KPa / Square(scale.S) / ambientKPa;
        result = new PumpDownFit
        {
            Status = FitStatus.Converged,
            Advice = string.Empty,
            FittedSamples = data.Count,
            SpikesSetAside = data.SetAside,
            StartS = scale.TimeS(fit.Estimates[2]),
            FittedFromS = data.First,
            FittedToS = data.Last,
            UltimateKPa = slope / rate,
            RatePerS = rate,
            FlowPerVolumePerS = slope / ambientKPa,
            FlowPerVolumeSe = Math.Sqrt(slopeVariance),
            LeakPerVolumePerS = rate - (slope / ambientKPa),
            LeakPerVolumeSe = Math.Sqrt(Math.Max(rateVariance + slopeVariance - (2 * cross), 0)),
            FlowLeakCovariance = cross - slopeVariance,
            ResidualKPa = fit.ResidualStandardDeviation * scale.KPa,
            AmbientKPa = ambientKPa,
        };
        return true;
    }

    private static PumpDownFit FitWithAssumedUltimate(PumpDownSelection data, int end, double upper, int latest, double plateauKPa, double ambientKPa)
    {
        data.TakeWhere(LowestFittedKPa, end);
        var scale = new FitScale(data.First, data.Last - data.First, plateauKPa);
        if (!(scale.S > 0))
        {
            return Nothing(FitStatus.Degenerate, ambientKPa, data.Count, "All samples fall on one instant.");
        }

        // The plateau was reached, so the ultimate is at least that.
        var share = Math.Max(AssumedUltimateShare, 1.02 * plateauKPa / ambientKPa);
        Span<double> start = stackalloc double[3];
        data.Guess(share * ambientKPa, scale, start);
        var ultimate = share * ambientKPa / scale.KPa;
        var fit = data.FitHeld(scale, [start[0], start[2]], ultimate);
        for (var pass = 1; pass < MaxPasses && fit.Status == FitStatus.Converged; pass++)
        {
            if (!data.Reselect([fit.Estimates[0], fit.Estimates[0] / ultimate, fit.Estimates[1]], scale, LowestFittedKPa, upper, latest))
            {
                break;
            }

            if (data.Count < FewestSamples)
            {
                return Nothing(FitStatus.Degenerate, ambientKPa, data.Count, "Too few samples between atmosphere and plateau: sample faster.");
            }

            fit = data.FitHeld(scale, fit.Estimates.AsSpan(), ultimate);
        }

        if (fit.Status != FitStatus.Converged || !(fit.Estimates[0] > 0))
        {
            return Nothing(fit.Status == FitStatus.Converged ? FitStatus.Failed : fit.Status, ambientKPa, data.Count, fit.Advice);
        }

        var lowShare = Math.Max(share - AssumedUltimateSd, 1.005 * plateauKPa / ambientKPa);
        var low = data.FitHeld(scale, fit.Estimates.AsSpan(), lowShare * ambientKPa / scale.KPa);
        var high = data.FitHeld(scale, fit.Estimates.AsSpan(), (share + AssumedUltimateSd) * ambientKPa / scale.KPa);
        var toFlow = scale.KPa / scale.S / ambientKPa;
        var flow = fit.Estimates[0] * toFlow;
        var (lowFlow, highFlow) = (low.Estimates[0] * toFlow, high.Estimates[0] * toFlow);
        var flowShift = (highFlow - lowFlow) / 2;
        var leakShift = ((highFlow * Ratio(share + AssumedUltimateSd)) - (lowFlow * Ratio(lowShare))) / 2;
        return new PumpDownFit
        {
            Status = FitStatus.Converged,
            Advice = string.Empty,
            FittedSamples = data.Count,
            SpikesSetAside = data.SetAside,
            StartS = scale.TimeS(fit.Estimates[1]),
            FittedFromS = data.First,
            FittedToS = data.Last,
            UltimateKPa = share * ambientKPa,
            RatePerS = flow / share,
            FlowPerVolumePerS = flow,
            FlowPerVolumeSe = Math.Sqrt(Square(fit.StandardErrors[0] * toFlow) + Square(flowShift)),
            LeakPerVolumePerS = null,
            LeakPerVolumeSe = null,
            FlowLeakCovariance = null,
            ResidualKPa = fit.ResidualStandardDeviation * scale.KPa,
            AmbientKPa = ambientKPa,
            FlowShiftPerS = flowShift,
            AssumedLeakPerS = flow * Ratio(share),
            LeakShiftPerS = leakShift,
        };

        // C/S for an ultimate at a share of ambient: v_u/p_a = S/(S + C).
        static double Ratio(double share) => (1 / share) - 1;
    }

    /// <summary>The first sample whose neighbourhood (median of three) lies above a level, or the end: one spike does not decide.</summary>
    private static int FirstAbove(ReadOnlySpan<double> v, double level)
    {
        for (var i = 0; i < v.Length; i++)
        {
            var before = v[Math.Max(i - 1, 0)];
            var after = v[Math.Min(i + 1, v.Length - 1)];
            if (Math.Max(Math.Min(before, v[i]), Math.Min(Math.Max(before, v[i]), after)) > level)
            {
                return i;
            }
        }

        return v.Length;
    }

    private static double Square(double x) => x * x;

    private static PumpDownFit Nothing(FitStatus status, double ambientKPa, int samples, string advice) => new()
    {
        Status = status,
        Advice = advice,
        FittedSamples = samples,
        SpikesSetAside = 0,
        StartS = double.NaN,
        FittedFromS = double.NaN,
        FittedToS = double.NaN,
        UltimateKPa = double.NaN,
        RatePerS = double.NaN,
        FlowPerVolumePerS = double.NaN,
        FlowPerVolumeSe = double.NaN,
        LeakPerVolumePerS = null,
        LeakPerVolumeSe = null,
        FlowLeakCovariance = null,
        ResidualKPa = double.NaN,
        AmbientKPa = ambientKPa,
    };
}
