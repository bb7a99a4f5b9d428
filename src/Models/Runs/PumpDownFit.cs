using Vanehour.Models.Regression;

namespace Vanehour.Models.Runs;

/// <summary>
/// The fit of v(t) = v_u (1 - exp(-k (t - t0))) to a rise of vacuum, v in kPa below ambient, and what follows from it for a tank of gas volume V at ambient
/// pressure p_a: displaced flow S and leak conductance C with k = (S + C)/V and v_u/p_a = S/(S + C). Standard errors are those of the noise about the fitted curve.
/// </summary>
public sealed record PumpDownFit
{
    /// <summary>Converged, or why there is no fit; every number below is then NaN.</summary>
    public required FitStatus Status { get; init; }

    /// <summary>What to try next where there is no fit; empty otherwise.</summary>
    public required string Advice { get; init; }

    /// <summary>How many samples were fitted, those set aside as spikes not counted.</summary>
    public required int FittedSamples { get; init; }

    /// <summary>How many samples in the fitted stretch were set aside as spikes.</summary>
    public required int SpikesSetAside { get; init; }

    /// <summary>The instant of atmospheric pressure on the fitted curve, s on the clock of the samples.</summary>
    public required double StartS { get; init; }

    /// <summary>The first instant fitted, s.</summary>
    public required double FittedFromS { get; init; }

    /// <summary>The last instant fitted, s.</summary>
    public required double FittedToS { get; init; }

    /// <summary>Ultimate vacuum v_u, kPa below ambient; where the leak is unknown it is the share of ambient that was assumed.</summary>
    public required double UltimateKPa { get; init; }

    /// <summary>Rate k, 1/s.</summary>
    public required double RatePerS { get; init; }

    /// <summary>S/V, 1/s.</summary>
    public required double FlowPerVolumePerS { get; init; }

    /// <summary>Standard error of <see cref="FlowPerVolumePerS"/>, 1/s.</summary>
    public required double FlowPerVolumeSe { get; init; }

    /// <summary>C/V, 1/s, a little below zero where noise says so; null where it cannot be told from S.</summary>
    public required double? LeakPerVolumePerS { get; init; }

    /// <summary>Standard error of <see cref="LeakPerVolumePerS"/>, 1/s; null with it.</summary>
    public required double? LeakPerVolumeSe { get; init; }

    /// <summary>Covariance of S/V and C/V, 1/s2.</summary>
    public required double? FlowLeakCovariance { get; init; }

    /// <summary>Residual standard deviation, kPa.</summary>
    public required double ResidualKPa { get; init; }

    /// <summary>Ambient pressure p_a that was used, kPa absolute.</summary>
    public required double AmbientKPa { get; init; }

    /// <summary>Where the leak is unknown: how far S/V moves when the assumed ultimate moves by its standard deviation, 1/s; else 0.</summary>
    internal double FlowShiftPerS { get; init; }

    /// <summary>Where the leak is unknown: the leak that belongs to the assumed ultimate, 1/s.</summary>
    internal double AssumedLeakPerS { get; init; }

    /// <summary>Where the leak is unknown: how far <see cref="AssumedLeakPerS"/> moves with the assumed ultimate, 1/s.</summary>
    internal double LeakShiftPerS { get; init; }

    /// <summary>C/S and its standard error by the delta method; null where C is unknown.</summary>
    /// <returns>The ratio, a little below zero where noise says so, and its error by the fit alone.</returns>
    public (double Ratio, double Se)? LeakRatio()
    {
        if (LeakPerVolumePerS is not { } leak || LeakPerVolumeSe is not { } leakSe || FlowLeakCovariance is not { } covariance)
        {
            return null;
        }

        var ratio = leak / FlowPerVolumePerS;
        var variance = (leakSe * leakSe) + (ratio * ratio * FlowPerVolumeSe * FlowPerVolumeSe) - (2 * ratio * covariance);
        return (ratio, Math.Sqrt(Math.Max(variance, 0)) / FlowPerVolumePerS);
    }

    /// <summary>
    /// Net flow at a vacuum over gas volume, (S - C v/(p_a - v))/V, with S brought to another speed: S goes with speed, the leak back through the clearances does not.
    /// </summary>
    /// <param name="referenceVacuumKPa">The vacuum v, kPa below ambient; at least 0 and below ambient.</param>
    /// <param name="speedRatio">The speed wanted over the speed of the fit; positive, 1 where the speed is unknown.</param>
    /// <returns>The net flow and its standard error, 1/s; NaN without a fit.</returns>
    /// <exception cref="ArgumentOutOfRangeException">Outside those ranges.</exception>
    public (double PerS, double Se) NetFlow(double referenceVacuumKPa, double speedRatio = 1)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(referenceVacuumKPa);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(speedRatio);
        if (Status != FitStatus.Converged)
        {
            return (double.NaN, double.NaN);
        }

        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(referenceVacuumKPa, AmbientKPa);
        var weight = referenceVacuumKPa / (AmbientKPa - referenceVacuumKPa);
        if (LeakPerVolumePerS is { } leak && LeakPerVolumeSe is { } leakSe && FlowLeakCovariance is { } covariance)
        {
            var variance = (speedRatio * speedRatio * FlowPerVolumeSe * FlowPerVolumeSe)
                + (weight * weight * leakSe * leakSe)
                - (2 * speedRatio * weight * covariance);
            return ((speedRatio * FlowPerVolumePerS) - (weight * leak), Math.Sqrt(Math.Max(variance, 0)));
        }

        // The leak is a fixed share of S here, so the noise of S scales and the doubt about the share adds to it.
        var net = (speedRatio * FlowPerVolumePerS) - (weight * AssumedLeakPerS);
        var noise = Math.Sqrt(Math.Max((FlowPerVolumeSe * FlowPerVolumeSe) - (FlowShiftPerS * FlowShiftPerS), 0));
        var fromNoise = Math.Abs(net / FlowPerVolumePerS) * noise;
        var fromShare = (speedRatio * FlowShiftPerS) - (weight * LeakShiftPerS);
        return (net, Math.Sqrt((fromNoise * fromNoise) + (fromShare * fromShare)));
    }
}
