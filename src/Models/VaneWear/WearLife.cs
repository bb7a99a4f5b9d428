using Vanehour.Fleet;
using Vanehour.Models.Analysis;
using Vanehour.Models.Regression;

namespace Vanehour.Models.VaneWear;

/// <summary>What is observed of the wear of one life, ready to be fitted.</summary>
internal sealed class WearLife
{
    // A check that reads no more than this of the flow is no check.
    private const double LeastTightness = 0.05;

    private const double BinH = 20;
    private const int MostBins = 60;

    // Below this share no check repeats itself: the gauge alone is coarser. Of our own.
    private const double LeastScatter = 0.002;

    // A record that was written up later tells its hours by the meter, unless the meter was changed in between.
    private const double MeterAgreesH = 60;

    // Checks' ambient pressures that differ by more come from a barometer, kPa; of our own.
    private const double BarometerMoves = 0.1;

    private WearLife(
        PumpHistory pump, FlowSteps steps, WearBin[] bins, WidthReading[] widths, double firstH, (double NetFlow, double Tightness) scatter, int farOff, (WeatherEvidence NetFlow, WeatherEvidence Tightness) weather)
    {
        Weather = weather;
        Pump = pump;
        Steps = steps;
        Bins = bins;
        Widths = widths;
        FirstH = firstH;
        Scatter = scatter;
        FarOff = farOff;
        NowH = pump.Clock.TotalH;
    }

    public PumpHistory Pump { get; }

    public FlowSteps Steps { get; }

    public WearBin[] Bins { get; }

    public WidthReading[] Widths { get; }

    /// <summary>Hours since fitting at the first observation, h.</summary>
    public double FirstH { get; }

    /// <summary>Standard deviation of one check about its neighbours, by channel.</summary>
    public (double NetFlow, double Tightness) Scatter { get; }

    /// <summary>How many checks' net flow lies so far from their neighbours' that it counts for less than half.</summary>
    public int FarOff { get; }

    /// <summary>Hours since fitting at the end of what is looked at, h.</summary>
    public double NowH { get; private init; }

    /// <summary>What the checks say of the weather, by channel.</summary>
    public (WeatherEvidence NetFlow, WeatherEvidence Tightness) Weather { get; }

    public double Range => 1 - Pump.Model.FlowKeptLimit;

    /// <summary>Net flow over gas volume of the nameplate as new, 1/s.</summary>
    public double NominalPerS => NetOverRated * Pump.Model.FreeAir.Si / Pump.Truck.TankVolume.Si;

    public bool HasObservations => Bins.Length > 0 || Widths.Length > 0;

    /// <summary>Net flow at the default reference vacuum over rated flow for a new pump whose ultimate is nine tenths of ambient; a value of our own.</summary>
    public const double NetOverRated = 0.93;

    public static WearLife Of(PumpHistory pump, FlowSteps steps, IReadOnlyList<WidthReading> widths, WearOptions options)
    {
        var bins = new List<WearBin>();
        var nominal = NetOverRated * pump.Model.FreeAir.Si / pump.Truck.TankVolume.Si;
        var checks = steps.Raw;
        var scatter = (NetFlow: 0.0, Tightness: 0.0);
        var weather = (NetFlow: default(WeatherEvidence), Tightness: default(WeatherEvidence));
        var farOff = 0;
        if (checks.Count >= options.FewestChecks)
        {
            var ambient = pump.Runs.Where(r => r.FirstPumpDown is not null).GroupBy(r => r.FirstPumpDown!.Start).ToDictionary(g => g.Key, g => g.First().AmbientMeanC);
            var usualKPa = Robust.Median(checks.Select(c => c.Source.AmbientKPa));
            var hasBarometer = checks.Max(c => c.Source.AmbientKPa) - checks.Min(c => c.Source.AmbientKPa) > BarometerMoves;
            var net = checks.Select(c => (Check: c, Value: Math.Log(NetFlowOf(c, usualKPa) / nominal))).Where(c => double.IsFinite(c.Value)).ToList();
            var tight = checks
                .Where(c => c.Source.LeakPerVolumePerS is not null && c.Source.FlowPerVolumePerS > 0)
                .Select(c => (Check: c, Value: TightnessOf(c, usualKPa)))
                .Where(c => c.Value > LeastTightness && double.IsFinite(c.Value))
                .Select(c => (c.Check, Math.Log(c.Value)))
                .ToList();
            (scatter.NetFlow, weather.NetFlow) = Add(WearChannel.NetFlow, net, [.. steps.Steps.Select(s => s.HoursSinceFitting)]);
            (scatter.Tightness, weather.Tightness) = Add(WearChannel.Tightness, tight, [.. steps.Steps.Select(s => s.HoursSinceFitting)]);

            (double Scatter, WeatherEvidence Weather) Add(WearChannel channel, List<(WearCheck Check, double Value)> rows, double[] stepsAt)
            {
                if (rows.Count < options.FewestChecks)
                {
                    return default;
                }

                var groups = Groups(rows, stepsAt, Math.Max(BinH, (rows[^1].Check.HoursH - rows[0].Check.HoursH) / MostBins));
                var deviations = groups.Where(g => g.Count >= 3).SelectMany(g =>
                {
                    var middle = Robust.Median(g.Select(r => r.Value));
                    return g.Select(r => Math.Abs(r.Value - middle) * Math.Sqrt(g.Count / (g.Count - 1.0)));
                }).ToList();
                var own = Robust.Median(rows.Select(r => r.Check.FlowSe / r.Check.FlowPerS));
                var spread = Math.Max(LeastScatter, deviations.Count >= 5 ? Robust.MadToSd * Robust.Median(deviations) : own);
                double xy = 0, xx = 0;
                foreach (var group in groups)
                {
                    var (value, weight) = Middle([.. group.Select(r => r.Value)], spread);
                    farOff += channel == WearChannel.NetFlow ? group.Count(r => Robust.HuberWeight(r.Value - value, spread) < 0.5) : 0;
                    var hoursH = group.Average(r => r.Check.HoursH);
                    var warm = group.Select(r => (r.Value, AmbientC: ambient.GetValueOrDefault(r.Check.Source.Start))).Where(r => r.AmbientC is { } c && double.IsFinite(c)).ToList();
                    var meanC = warm.Count == 0 ? (double?)null : warm.Average(r => r.AmbientC!.Value);
                    foreach (var (reading, ambientC) in warm)
                    {
                        var (warmer, weight1) = (ambientC!.Value - meanC!.Value, Robust.HuberWeight(reading - value, spread) / (spread * spread));
                        xy += weight1 * warmer * (reading - value);
                        xx += weight1 * warmer * warmer;
                    }

                    // A pump whose speed is not known is no faster or slower from bin to bin than its checks show; what all share is the baseline's.
                    bins.Add(new WearBin(
                        channel, hoursH, value, spread / Math.Sqrt(weight), meanC, stepsAt.Count(s => s <= group[0].Check.HoursH)));
                }

                return (spread, new WeatherEvidence(xy, xx, hasBarometer));
            }
        }

        var firstH = bins.Select(b => b.HoursH).Concat(widths.Select(w => w.HoursH)).DefaultIfEmpty(0).Min();
        return new WearLife(pump, steps, [.. bins], [.. widths], firstH, scatter, farOff, weather);
    }

    /// <summary>The life as it was known after so many hours; its steps and the scatter of its checks are those found in hindsight.</summary>
    public WearLife Until(double hoursH) => new(
        Pump,
        Steps with { Raw = [.. Steps.Raw.TakeWhile(c => c.HoursH <= hoursH)], Steps = [.. Steps.Steps.Where(s => s.HoursSinceFitting <= hoursH)] },
        [.. Bins.Where(b => b.HoursH <= hoursH)],
        [.. Widths.Where(w => w.HoursH <= hoursH)],
        FirstH,
        Scatter,
        FarOff,
        Weather)
    {
        NowH = hoursH,
    };

    /// <summary>1 less the share of the displaced flow that leaks back at the reference vacuum, at the yard's usual ambient pressure.</summary>
    public static double TightnessOf(WearCheck check, double usualKPa)
    {
        var d = check.Source;
        return 1 - (d.LeakPerVolumePerS!.Value / d.FlowPerVolumePerS * d.ReferenceVacuumKPa / (usualKPa - d.ReferenceVacuumKPa));
    }

    // The same vacuum is a larger pressure ratio under a low barometer, and more leaks back: that is weather, not wear.
    private static double NetFlowOf(WearCheck check, double usualKPa)
    {
        var d = check.Source;
        return check.FlowPerS + ((d.LeakPerVolumePerS ?? 0) * d.ReferenceVacuumKPa * ((1 / (d.AmbientKPa - d.ReferenceVacuumKPa)) - (1 / (usualKPa - d.ReferenceVacuumKPa))));
    }

    /// <summary>The vane widths of a truck's lives, each with the life that it was measured in. A width taken on arrival for a rebuild belongs to the life that the rebuild ends.</summary>
    /// <param name="lives">The truck's lives in order of fitting.</param>
    /// <param name="options">How well a width is read.</param>
    public static ILookup<PumpHistory, WidthReading> WidthsOf(IReadOnlyList<PumpHistory> lives, WearOptions options)
    {
        var found = new List<(PumpHistory Pump, WidthReading Reading)>();
        foreach (var record in lives.SelectMany(l => l.Records).Where(r => r is { Kind: ServiceKind.VaneWidth, ValueSi: not null }).Distinct())
        {
            var at = lives.ToList().FindLastIndex(l => l.Life.FittedAt <= record.At && !(l.Life.EndedAt < record.At));
            if (at < 0)
            {
                continue;
            }

            // Written up after the rebuild, under the meter at which it was made.
            if (at > 0 && record.MeterH - lives[at].Life.MeterAtFittingH <= 0 && Reading(lives[at - 1], record, options) is { Wear: > 0.5 } late)
            {
                found.Add((lives[at - 1], late with { HoursH = lives[at - 1].Clock.TotalH }));
            }
            else if (Reading(lives[at], record, options) is { } reading)
            {
                found.Add((lives[at], reading));
            }
        }

        return found.ToLookup(f => f.Pump, f => f.Reading);
    }

    private static WidthReading? Reading(PumpHistory pump, ServiceRecord record, WearOptions options)
    {
        if (pump.Model is not { VaneWidthNew: { } asNew, VaneWidthLimit: { } limit } || !(asNew.Si > limit.Si))
        {
            return null;
        }

        var range = asNew.Millimetres - limit.Millimetres;
        var width = record.ValueSi!.Value * 1000;
        var wear = (asNew.Millimetres - width) / range;
        var byClock = pump.Clock.HoursAt(record.At);
        var byMeter = record.MeterH - pump.Life.MeterAtFittingH;
        var hoursH = Math.Abs(byMeter - byClock) <= MeterAgreesH ? Math.Clamp(byMeter, 0, pump.Clock.TotalH) : byClock;
        return double.IsFinite(wear) && wear is > -1 and < 3 ? new WidthReading(record.At, hoursH, width, wear, options.VaneWidthErrorMm / range) : null;
    }

    private static List<List<(WearCheck Check, double Value)>> Groups(List<(WearCheck Check, double Value)> rows, double[] stepsAt, double widthH)
    {
        var groups = new List<List<(WearCheck, double)>>();
        var fromH = double.NegativeInfinity;
        var steps = -1;
        foreach (var row in rows)
        {
            var before = stepsAt.Count(s => s <= row.Check.HoursH);
            if (before != steps || row.Check.HoursH >= fromH + widthH)
            {
                groups.Add([]);
                fromH = row.Check.HoursH;
                steps = before;
            }

            groups[^1].Add(row);
        }

        return groups;
    }

    // Huber's estimate about the median, and the weight that went into it.
    private static (double Value, double Weight) Middle(double[] values, double spread)
    {
        var middle = Robust.Median(values);
        var weight = 0.0;
        for (var round = 0; round < 5; round++)
        {
            weight = 0;
            var sum = 0.0;
            foreach (var value in values)
            {
                var w = Robust.HuberWeight(value - middle, spread);
                weight += w;
                sum += w * value;
            }

            middle = sum / weight;
        }

        return (middle, weight);
    }
}
