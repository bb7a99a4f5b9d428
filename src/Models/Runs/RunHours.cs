using Vanehour.Fleet;

namespace Vanehour.Models.Runs;

/// <summary>The PTO hours of a run.</summary>
/// <param name="Hours">What counts, h.</param>
/// <param name="MeterStart">Meter at the start, h.</param>
/// <param name="MeterEnd">Meter at the end, h.</param>
/// <param name="Missing">No meter reading.</param>
/// <param name="Disagrees">The meter went back, jumped or disagreed.</param>
internal readonly record struct RunHours(double Hours, double? MeterStart, double? MeterEnd, bool Missing, bool Disagrees)
{
    /// <summary>
    /// The meter's difference counts where it agrees with the engaged time to within its own step (0.1 h where every reading is a whole tenth, else 0.01 h),
    /// one minute for the instants of the readings, and 2 %. A step of more than a tenth of the run can't divide anything: then the engaged time counts,
    /// which agrees. Time before the first and after the last reading is added from the clock.
    /// </summary>
    public static RunHours Of(RunTrace trace)
    {
        var engagedMs = trace.EndMs - trace.StartMs;
        var engagedH = engagedMs / 3_600_000.0;
        var meter = trace[Signal.PtoHours];
        var t = trace.TimesMs;
        var first = trace.Initial(Signal.PtoHours);
        var heldMs = trace.InitialMs(Signal.PtoHours);
        var firstMs = trace.StartMs;
        var (last, lastMs) = (first, firstMs);
        var (readings, wentBack, coarse) = (0, false, IsTenth(first));
        for (var i = 0; i < meter.Length; i++)
        {
            Read(meter[i], t[i]);
        }

        Read(trace.Closing(Signal.PtoHours), trace.EndMs);
        if (readings == 0)
        {
            return new(engagedH, null, null, true, false);
        }

        var stepH = coarse ? RunRules.CoarseMeterH : RunRules.FineMeterH;
        var unreadH = (firstMs - trace.StartMs + (trace.EndMs - lastMs)) / 3_600_000.0;
        var byMeter = last - first + unreadH;
        var slack = stepH + RunRules.MeterSlackH + (RunRules.MeterSlackShare * engagedH);
        var disagrees = wentBack || Math.Abs(byMeter - engagedH) > slack;
        var counts = !disagrees && stepH <= RunRules.CoarsestMeterShare * engagedH;
        return new(counts ? byMeter : engagedH, first, last, false, disagrees);

        void Read(double value, long ms)
        {
            if (double.IsNaN(value))
            {
                return;
            }

            if (double.IsNaN(first))
            {
                (first, firstMs, last) = (value, ms, value);
            }

            // A meter that was replaced, reset or rolled over since it was last heard: the run begins with the new one.
            if (readings == 0 && (value < first - 1e-9 || value - first > ((ms - heldMs) / 3_600_000.0) + RunRules.CoarseMeterH + RunRules.MeterSlackH))
            {
                (first, firstMs, last, wentBack) = (value, ms, value, true);
            }

            wentBack |= value < last - 1e-9;
            coarse &= IsTenth(value);
            (last, lastMs) = (value, ms);
            readings++;
        }
    }

    /// <summary>
    /// Whether the meter says that the pump did not turn through a silence: from a reading before it to one after it the meter moved less than the clock, by more than its
    /// step and a minute. A meter that was not read on both sides says nothing.
    /// </summary>
    public static bool Contradicts(double before, long beforeMs, double after, long afterMs)
    {
        var stepH = IsTenth(before) && IsTenth(after) ? RunRules.CoarseMeterH : RunRules.FineMeterH;
        var elapsedH = (afterMs - beforeMs) / 3_600_000.0;
        var moved = after - before;

        // A meter that went back was replaced or reset: it says nothing of the silence.
        return moved >= 0 && moved < elapsedH - stepH - RunRules.MeterSlackH;
    }

    private static bool IsTenth(double reading) => !(Math.Abs((reading * 10) - Math.Round(reading * 10)) > 1e-6);
}
