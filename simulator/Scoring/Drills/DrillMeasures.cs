using System.Collections.Immutable;
using Vanehour.Fleet.Runs;

namespace Vanehour.Scoring.Drills;

/// <summary>Reads a drill's truck as a trainee could have: each indicator before and after.</summary>
internal static class DrillMeasures
{
    private const int FewestValues = 3;

    private static readonly TimeSpan Recently = TimeSpan.FromDays(21);

    private static readonly (string Name, string Unit, Func<Run, double?> Value)[] Indicators =
    [
        ("oil use", "L/h", r => r.HoursH >= 0.25 ? r.OilRateLPerH : null),
        ("temperature rise over ambient", "K", r => r.TempRiseK),
        ("restlessness of the pump temperature", "K", r => r.TempHuntingK),
        ("pump speed under load", "rpm", r => Work(r) ? r.SpeedMeanRpm : null),
        ("time from 5 to 12 inHg in start-up checks", "s", r => Check(r)?.WatchTime5To12InHgS),
        ("leak ratio in start-up checks", "1", r => Check(r)?.LeakRatio),
        ("vacuum at which the relief valve lifts", "kPa", r => Check(r) is { EndedAtRelief: true } c ? c.PlateauKPa : null),
        ("vacuum that start-up checks end at", "kPa", r => Check(r)?.PlateauKPa),
        ("highest vacuum at work", "kPa", r => Work(r) ? r.VacuumMaxKPa : null),
        ("mean vacuum at work", "kPa", r => Work(r) ? r.VacuumMeanKPa : null),
        ("PTO hours of a run at work", "h", r => Work(r) ? r.HoursH : null),
    ];

    /// <summary>The indicators that could be measured on both sides.</summary>
    /// <param name="runs">Runs by truck, in order of start.</param>
    /// <param name="truck">The drill's truck.</param>
    /// <param name="onset">When it began; null: the middle of the data divides.</param>
    /// <param name="fullAt">When it was fully grown.</param>
    /// <param name="end">The end of the data.</param>
    public static ImmutableArray<DrillMeasure> Of(
        IReadOnlyDictionary<string, IReadOnlyList<Run>> runs, string truck, DateTimeOffset? onset, DateTimeOffset? fullAt, DateTimeOffset end)
    {
        var start = runs.Values.SelectMany(r => r.Take(1)).Min(r => r.Start);
        var before = onset ?? start + ((end - start) / 2);
        var after = fullAt is { } full && full > end - Recently ? full : end - Recently;
        return
        [
            .. from indicator in Indicators
               let own = Pair(runs[truck], indicator.Value)
               where own is not null
               let others = runs.Where(r => r.Key != truck).Select(r => Pair(r.Value, indicator.Value)).OfType<(double Before, double After)>()
                   .Where(p => p.Before != 0).Select(p => 100 * (p.After - p.Before) / p.Before).ToList()
               select new DrillMeasure(indicator.Name, indicator.Unit, own.Value.Before, own.Value.After, others.Count == 0 ? null : Median(others)),
        ];

        (double Before, double After)? Pair(IReadOnlyList<Run> of, Func<Run, double?> value)
        {
            var was = of.Where(r => r.Start < before).Select(value).OfType<double>().ToList();
            var now = of.Where(r => r.Start >= after).Select(value).OfType<double>().ToList();
            return was.Count < FewestValues || now.Count < FewestValues ? null : (Median(was), Median(now));
        }
    }

    private static bool Work(Run run) => Check(run) is null && run.VacuumMaxKPa > 20;

    private static PumpDown? Check(Run run) => run.FirstPumpDown is { IsStartUpCheck: true } check ? check : null;

    private static double Median(List<double> values)
    {
        values.Sort();
        return (values[(values.Count - 1) / 2] + values[values.Count / 2]) / 2;
    }
}
