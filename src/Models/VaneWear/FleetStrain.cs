using Vanehour.Fleet.Runs;
using Vanehour.Models.Analysis;
using Vanehour.Models.Regression;

namespace Vanehour.Models.VaneWear;

/// <summary>What may speed up wear, read from the runs of a fleet: speed over the rated, hot hours, hours under poor lubrication.</summary>
internal static class FleetStrain
{
    // Hotter than is usual for the model by so much is hot, K; an oil rate below this share of the model's usual one is poor lubrication, over so many hours. All of our own.
    private const double HotK = 12;
    private const double PoorShare = 0.5;
    private const double OilOverH = 10;

    /// <summary>Reads the runs of all lives.</summary>
    public static IReadOnlyDictionary<PumpHistory, LifeStrain> Of(IReadOnlyCollection<PumpHistory> pumps)
    {
        var lives = pumps.Select(p => (Pump: p, OilRates: OilRates(p.Runs))).ToList();
        var raw = new Dictionary<PumpHistory, List<(double EndH, double HoursH, double? Speed, double? Heat, double? Oil)>>(ReferenceEqualityComparer.Instance);
        foreach (var model in lives.GroupBy(l => l.Pump.Model.Model, StringComparer.Ordinal))
        {
            var rises = model.SelectMany(l => l.Pump.Runs).Select(r => r.TempRiseK).OfType<double>().Where(double.IsFinite).ToList();
            var rates = model.SelectMany(l => l.OilRates).OfType<double>().ToList();
            var hotK = rises.Count == 0 ? double.NaN : Robust.Median(rises) + HotK;
            var poor = rates.Count == 0 ? double.NaN : PoorShare * Robust.Median(rates);
            foreach (var (pump, oilRates) in model)
            {
                var ratedRpm = pump.Model.RatedSpeed.Rpm;
                raw[pump] =
                [
                    .. pump.Runs.Select((r, i) => (
                        pump.Clock.HoursAt(r.End),
                        r.HoursH,
                        r.SpeedMeanRpm is > 0 and < double.PositiveInfinity ? Math.Log(r.SpeedMeanRpm.Value / ratedRpm) : (double?)null,
                        r.TempRiseK is { } rise && double.IsFinite(rise) ? (rise > hotK ? 1 : 0) : (double?)null,
                        oilRates[i] is { } rate && poor > 0 ? (rate < poor ? 1 : 0) : (double?)null)),
                ];
            }
        }

        var all = raw.Values.SelectMany(r => r).ToList();
        var mean = new Strain(Mean(all.Select(r => (r.HoursH, r.Speed))), Mean(all.Select(r => (r.HoursH, r.Heat))), Mean(all.Select(r => (r.HoursH, r.Oil))));
        return raw.ToDictionary(
            l => l.Key,
            l => new LifeStrain([.. l.Value.Select(r => (r.EndH, r.HoursH, r.Speed - mean.Speed, r.Heat - mean.Heat, r.Oil - mean.Oil))]),
            (IEqualityComparer<PumpHistory>)ReferenceEqualityComparer.Instance);
    }

    private static double Mean(IEnumerable<(double HoursH, double? Value)> rows)
    {
        double sum = 0, allH = 0;
        foreach (var (hoursH, value) in rows)
        {
            if (value is { } known)
            {
                sum += hoursH * known;
                allH += hoursH;
            }
        }

        return allH > 0 ? sum / allH : 0;
    }

    // Oil used per hour over the last hours up to each run: what one run uses is too little to be read well. Null until so many hours were heard.
    private static double?[] OilRates(IReadOnlyList<Run> runs)
    {
        var rates = new double?[runs.Count];
        var within = new Queue<(double HoursH, double OilL)>();
        double hoursH = 0, oilL = 0;
        for (var i = 0; i < runs.Count; i++)
        {
            if (runs[i] is not { OilUsedL: { } used, HoursH: > 0 and var lengthH } || !double.IsFinite(used))
            {
                continue;
            }

            within.Enqueue((lengthH, used));
            (hoursH, oilL) = (hoursH + lengthH, oilL + used);
            while (hoursH - within.Peek().HoursH >= OilOverH)
            {
                var (oldH, oldL) = within.Dequeue();
                (hoursH, oilL) = (hoursH - oldH, oilL - oldL);
            }

            rates[i] = hoursH >= OilOverH ? oilL / hoursH : null;
        }

        return rates;
    }
}
