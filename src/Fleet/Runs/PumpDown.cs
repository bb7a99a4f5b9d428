namespace Vanehour.Fleet.Runs;

/// <summary>
/// The fit of v(t) = v_u (1 - exp(-k (t - t0))) to a pump-down, v in kPa below ambient, from V dp/dt = -S p + C (p_a - p) with
/// gas volume V, displaced flow S and leak conductance C: k = (S + C)/V and v_u/p_a = S/(S + C).
/// </summary>
public sealed record PumpDown
{
    public required DateTimeOffset Start { get; init; }

    /// <summary>Whether this is a start-up check (tank empty and closed), the only kind that wear is read from.</summary>
    public required bool IsStartUpCheck { get; init; }

    /// <summary>Why it is not a start-up check; null where it is one.</summary>
    public CheckRefusal? Refusal { get; init; }

    /// <summary>How many samples were fitted.</summary>
    public required int FittedSamples { get; init; }

    /// <summary>The vacuum at which the rise ended, kPa.</summary>
    public required double PlateauKPa { get; init; }

    /// <summary>Whether the plateau is the relief valve's setting (it ends below the fitted ultimate).</summary>
    public required bool EndedAtRelief { get; init; }

    /// <summary>Fitted ultimate vacuum v_u, kPa below ambient.</summary>
    public required double UltimateKPa { get; init; }

    /// <summary>Fitted rate k, 1/s.</summary>
    public required double RatePerS { get; init; }

    /// <summary>S/V, displaced flow over gas volume, 1/s.</summary>
    public required double FlowPerVolumePerS { get; init; }

    /// <summary>Standard error of <see cref="FlowPerVolumePerS"/>, 1/s.</summary>
    public required double FlowPerVolumeSe { get; init; }

    /// <summary>C/V, leak conductance over gas volume, 1/s; null where it cannot be told from S.</summary>
    public double? LeakPerVolumePerS { get; init; }

    /// <summary>Standard error of <see cref="LeakPerVolumePerS"/>, 1/s; null with it.</summary>
    public double? LeakPerVolumeSe { get; init; }

    /// <summary>Covariance of S/V and C/V, 1/s2.</summary>
    public double? FlowLeakCovariance { get; init; }

    /// <summary>The reference vacuum v_r of <see cref="NetFlowPerVolumePerS"/>, kPa.</summary>
    public required double ReferenceVacuumKPa { get; init; }

    /// <summary>Net flow at the reference vacuum over gas volume, (S - C v_r/(p_a - v_r))/V, brought to rated speed where the speed is known, 1/s.</summary>
    public required double NetFlowPerVolumePerS { get; init; }

    /// <summary>
    /// Standard error of <see cref="NetFlowPerVolumePerS"/>, 1/s: that of the fit together with how far the truck's checks of the last 60 days differ from one another (liquid
    /// left in the tank, speed, cold oil, weather). What is the same in all checks of a truck (tank volume, gauge) is not in it: only ratios between its checks are that good.
    /// </summary>
    public required double NetFlowPerVolumeSe { get; init; }

    /// <summary>C/S, leak and slip over displaced flow, 0 for a perfect pump; null where it cannot be told.</summary>
    public double? LeakRatio { get; init; }

    /// <summary>Standard error of <see cref="LeakRatio"/>, made up as that of the net flow is; null with it.</summary>
    public double? LeakRatioSe { get; init; }

    /// <summary>Mean speed over the fitted samples, rpm.</summary>
    public double? SpeedRpm { get; init; }

    /// <summary>Ambient pressure used, kPa absolute.</summary>
    public required double AmbientKPa { get; init; }

    /// <summary>Residual standard deviation of the fit, kPa.</summary>
    public required double ResidualKPa { get; init; }

    /// <summary>Plain seconds from 5 to 12 inHg, as read with a watch, by interpolation between samples; null where the range was not crossed.</summary>
    public double? WatchTime5To12InHgS { get; init; }
}
