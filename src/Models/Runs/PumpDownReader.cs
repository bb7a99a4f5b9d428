using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Runs;

/// <summary>
/// Finds the first pump-down of a run, fits it, and says whether it is a start-up check: after four hours of rest, smooth, ending either level at the
/// relief valve's setting or at the pump's own ultimate, and not followed by work.
/// </summary>
internal sealed class PumpDownReader(RunContext context)
{
    // The plateau is the pump's own ultimate from this share of the fitted ultimate on.
    private const double UltimateShare = 0.95;

    // Level: at least this long and this many readings, the last three of which lie below where the fitted curve would have gone, by more than
    // noise and the model's own error do. Asking how long it was level would not do: near the ultimate the curve itself is slow.
    private const double ShortestLevelS = 10;
    private const int FewestLevelReadings = 3;
    private const double HeldBackKPa = 0.6;
    private const double HeldBackResiduals = 3;

    // A relief valve stops the rise where it was; a pump that nears its own ultimate falls behind the fitted curve bit by bit. Invented: between the two.
    private const double ReliefBandKPa = 0.5;
    private const double LargestDelay = 1.5;

    // A relief valve drifts; further off than this share of its setting it is a working vacuum instead. Invented.
    private const double ReliefTolerance = 0.15;

    // Where the setting is near the pump's own ultimate (a new pump in a high yard) the rise creeps up to it, and the curve would hardly have gone on in the few readings of a
    // level. Then it is enough that the last reading is held back and lies near the setting: a crew sets the valve by a gauge with marks every inch of mercury, half of which
    // is this, kPa.
    private const double AtSettingKPa = 1.7;

    // A crew holds the vacuum until it has read the gauge, and no job is done in so short a time. Of our own.
    private const long LongestHoldMs = 5 * 60_000;

    // A hose sucking air also levels at an "ultimate"; no pump fit for work ends below half of ambient. Invented.
    private const double LowestUltimateShare = 0.5;

    // A valve turned half-way leaves steps that no closed tank has. Invented: several times sensor noise, and what a pump's curve departs from the model.
    private const double RoughKPa = 1.5;
    private const double RoughShare = 0.03;
    private const double LargestFallKPa = 3;

    // Two parameters and something to judge them by.
    private const int FewestForCheck = 5;

    public PumpDown? Read(RunTrace trace, PumpModel? model, double ambientKPa, bool rested, CheckHistory history)
    {
        if (VacuumRise.First(trace) is not { } rise)
        {
            return null;
        }

        var fit = PumpDownFitter.Fit(rise.TimesS, rise.VacuumKPa, rise.PlateauKPa, ambientKPa);
        if (fit.Status != FitStatus.Converged)
        {
            return null;
        }

        var start = DateTimeOffset.FromUnixTimeMilliseconds(trace.StartMs + (long)Math.Round(fit.StartS * 1000));
        var speed = MeanSpeed(trace, fit);
        var speedRatio = model is not null && speed > 0 ? model.RatedSpeed.Rpm / speed.Value : 1;

        // A setting no vacuum on this yard can reach would stop the reading; the fit ends well below ambient.
        var reference = Math.Min(context.Settings.ReferenceVacuumKPaOf(model?.Model), 0.9 * ambientKPa);
        var (net, netSe) = fit.NetFlow(reference, speedRatio);
        var isNearUltimate = rise.PlateauKPa >= UltimateShare * fit.UltimateKPa;
        var isLevel = IsLevel(rise, fit);
        var atRelief = isLevel && !isNearUltimate && StopsAtOnce(rise, fit);
        var atUltimate = isNearUltimate || (isLevel && !atRelief);
        var refusal = Refusal(trace, rise, fit, atUltimate, atRelief, rested);
        var startMs = start.ToUnixTimeMilliseconds();
        if (refusal is null
            && history.IsTooFast(startMs, net, reference, context.LastFlowChangeMs(trace.StartMs), context.LastPumpChangeMs(trace.StartMs)))
        {
            refusal = CheckRefusal.TooFast;
        }

        var leakRatio = fit.LeakRatio();

        return new PumpDown
        {
            Start = start,
            IsStartUpCheck = refusal is null,
            Refusal = refusal,
            FittedSamples = fit.FittedSamples,
            PlateauKPa = rise.PlateauKPa,
            EndedAtRelief = atRelief,
            UltimateKPa = fit.UltimateKPa,
            RatePerS = fit.RatePerS,
            FlowPerVolumePerS = fit.FlowPerVolumePerS,
            FlowPerVolumeSe = fit.FlowPerVolumeSe,
            LeakPerVolumePerS = fit.LeakPerVolumePerS,
            LeakPerVolumeSe = fit.LeakPerVolumeSe,
            FlowLeakCovariance = fit.FlowLeakCovariance,
            ReferenceVacuumKPa = reference,
            NetFlowPerVolumePerS = net,
            NetFlowPerVolumeSe = history.NetFlowSe(startMs, net, netSe, reference),
            LeakRatio = leakRatio?.Ratio,
            LeakRatioSe = leakRatio is { } ratio ? history.LeakRatioSe(startMs, ratio.Se) : null,
            SpeedRpm = speed,
            AmbientKPa = ambientKPa,
            ResidualKPa = fit.ResidualKPa,
            WatchTime5To12InHgS = rise.WatchTimeS,
        };
    }

    private static bool IsLevel(VacuumRise rise, PumpDownFit fit)
    {
        if (rise.LevelReadings < FewestLevelReadings || rise.LevelS < ShortestLevelS)
        {
            return false;
        }

        return IsHeldBack(rise, fit, FewestLevelReadings);
    }

    /// <summary>Whether the last readings lie below where the fitted curve would have gone.</summary>
    private static bool IsHeldBack(VacuumRise rise, PumpDownFit fit, int readings)
    {
        ReadOnlySpan<double> curve = [fit.UltimateKPa * fit.RatePerS, fit.RatePerS, fit.StartS];
        var heldBack = 0.0;
        for (var i = rise.TimesS.Length - readings; i < rise.TimesS.Length; i++)
        {
            heldBack += (PumpDownCurve.Value(curve, rise.TimesS[i]) - rise.VacuumKPa[i]) / readings;
        }

        return heldBack >= Math.Max(HeldBackKPa, HeldBackResiduals * fit.ResidualKPa);
    }

    /// <summary>Whether the plateau is reached about when the fitted curve says, instead of later and later.</summary>
    private static bool StopsAtOnce(VacuumRise rise, PumpDownFit fit)
    {
        var nearKPa = rise.PlateauKPa - ReliefBandKPa;
        var expectedS = PumpDownCurve.TimeOf(fit.UltimateKPa * fit.RatePerS, fit.RatePerS, fit.StartS, nearKPa) - fit.FittedToS;
        for (var i = 1; i < rise.TimesS.Length; i++)
        {
            if (rise.TimesS[i] > fit.FittedToS && rise.VacuumKPa[i] >= nearKPa)
            {
                return double.IsFinite(expectedS)
                    && rise.TimesS[i] - fit.FittedToS <= (LargestDelay * expectedS) + (rise.TimesS[i] - rise.TimesS[i - 1]);
            }
        }

        return false;
    }

    /// <summary>Mean over the fitted samples of the speed that held at each, rpm.</summary>
    private static double? MeanSpeed(RunTrace trace, PumpDownFit fit)
    {
        var speed = trace[Signal.PumpSpeed];
        var vacuum = trace[Signal.Vacuum];
        var times = trace.TimesMs;
        var (held, heldMs) = (trace.Initial(Signal.PumpSpeed), trace.InitialMs(Signal.PumpSpeed));
        var (sum, n) = (0.0, 0);
        for (var i = 0; i < speed.Length; i++)
        {
            if (!double.IsNaN(speed[i]))
            {
                (held, heldMs) = (speed[i], times[i]);
            }

            var s = (times[i] - trace.StartMs) / 1000.0;
            if (s > fit.FittedToS)
            {
                break;
            }

            if (s >= fit.FittedFromS && !double.IsNaN(vacuum[i]) && !double.IsNaN(held) && times[i] - heldMs <= RunRules.FastHoldMs)
            {
                sum += held;
                n++;
            }
        }

        return n > 0 ? sum / n : null;
    }

    private CheckRefusal? Refusal(RunTrace trace, VacuumRise rise, PumpDownFit fit, bool atUltimate, bool atRelief, bool rested)
    {
        if (!rested)
        {
            return CheckRefusal.NoRestBefore;
        }

        if (fit.FittedSamples < FewestForCheck)
        {
            return CheckRefusal.TooFewSamples;
        }

        if (fit.ResidualKPa > Math.Max(RoughKPa, RoughShare * rise.PlateauKPa) || rise.LargestFallKPa > LargestFallKPa)
        {
            return CheckRefusal.NotSmooth;
        }

        if (LoadedMsAfter(trace, trace.StartMs + (long)(rise.TimesS[^1] * 1000)) > LongestHoldMs)
        {
            return CheckRefusal.WorkFollows;
        }

        var setting = context.ReliefVacuumAt(DateTimeOffset.FromUnixTimeMilliseconds(trace.StartMs));
        var offSettingKPa = setting is { } s ? Math.Abs(rise.PlateauKPa - s.Kilopascals) : 0;
        var endsWell = atUltimate
            ? rise.PlateauKPa >= LowestUltimateShare * fit.AmbientKPa
            : (atRelief && offSettingKPa <= ReliefTolerance * (setting?.Kilopascals ?? 1)) || (setting is not null && offSettingKPa <= AtSettingKPa && IsHeldBack(rise, fit, readings: 1));
        return endsWell ? null : CheckRefusal.CutShort;
    }

    /// <summary>Time under vacuum or pressure from an instant on, ms.</summary>
    private static long LoadedMsAfter(RunTrace trace, long fromMs)
    {
        var times = trace.TimesMs;
        long loaded = 0;
        for (var i = 0; i < times.Length; i++)
        {
            if (times[i] >= fromMs && (trace[Signal.Vacuum][i] > RunRules.LoadKPa || trace[Signal.Pressure][i] > RunRules.LoadKPa))
            {
                loaded += Math.Min((i + 1 < times.Length ? times[i + 1] : trace.EndMs) - times[i], RunRules.FastHoldMs);
            }
        }

        return loaded;
    }
}
