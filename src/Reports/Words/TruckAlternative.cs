using Vanehour.Fleet.Runs;
using Vanehour.Models.Indicators;
using Vanehour.Reports.Trucks;

namespace Vanehour.Reports.Words;

/// <summary>What a truck's page says, a sentence each.</summary>
internal static class TruckAlternative
{
    // Enough to see a habit, and recent enough to be of now; chosen.
    private const int LatestRuns = 20;

    public static IEnumerable<string> Of(TruckScope scope)
    {
        yield return $"Truck {scope.Data.Truck.Id} as of {DateWords.DayAndTime(scope.Time.LocalOf(scope.Time.AsOf))}, dates in {scope.Time.ZoneName}{Worn(scope)}.";
        yield return ForecastWords.NothingToDraw(scope.Data.Wear) ?? ForecastWords.Limit(scope.Data.Wear!, scope.Time);
        yield return Findings(scope);
        var units = scope.Units;
        yield return Beside("Temperature over ambient", scope.Data.TemperatureRise, r => r.TempRiseK, scope, units.TemperatureDifferenceOf(1), DisplayUnits.SymbolOf(units.TemperatureDifference), 0);
        yield return Beside("Oil use", scope.Data.OilUse, r => r.OilRateLPerH, scope, units.OilOf(1), DisplayUnits.SymbolOf(units.Oil) + " per PTO hour", 2);
        yield return scope.Service.Count > 0
            ? $"Last service record: {ServiceWords.Of(scope.Service[^1], units)}, {DateWords.Day(scope.Time.LocalOf(scope.Service[^1].At))}."
            : "No service records.";
    }

    private static string Worn(TruckScope scope) => scope.Data.Wear?.Wear is { } wear
        ? $": wear {NumberWords.Fixed(wear.Mid, 2)}, 80 % {NumberWords.Fixed(wear.Low, 2)} to {NumberWords.Fixed(wear.High, 2)}, where 1 is the limit"
        : string.Empty;

    private static string Findings(TruckScope scope)
    {
        var open = scope.Data.Findings.OrderBy(f => f.Urgency)
            .Select(f => $"{FindingWords.Of(f.Kind)} since {DateWords.Day(scope.Time.LocalOf(f.Since))} ({FindingWords.Of(f.Urgency).ToLowerInvariant()})")
            .ToList();
        return open.Count == 0 ? "No open findings." : $"Open findings: {ChartAlternative.Some(open)}.";
    }

    private static string Beside(string what, IndicatorSeries? series, Func<Run, double?> seenIn, TruckScope scope, double factor, string unit, int decimals)
    {
        // As in the panel: without a series the runs themselves are drawn, and there is nothing to judge them by.
        IEnumerable<IndicatorPoint> all = series is { Points.Length: > 0 }
            ? series.Points
            : scope.Runs.Where(r => seenIn(r) is not null).Select(r => new IndicatorPoint(r.End, 0, r.HoursH, seenIn(r)!.Value, null, null, null));
        var seen = all.Where(p => p.At >= scope.Time.From && p.At <= scope.Time.AsOf && double.IsFinite(p.Seen)).ToList();
        if (seen.Count == 0)
        {
            return $"{what}: no readings.";
        }

        var last = seen[^1];
        var reading = $"{what} at the last run on {DateWords.Day(scope.Time.LocalOf(last.At))}: {Number(last.Seen)} {unit}";
        if (last is not { ExpectedLow: { } low, ExpectedHigh: { } high } || !double.IsFinite(low) || !double.IsFinite(high))
        {
            return $"{reading}; nothing to judge it by yet.";
        }

        var judged = seen.Where(p => p.ExpectedLow is not null && p.ExpectedHigh is not null).TakeLast(LatestRuns).ToList();
        var above = judged.Count(p => p.Seen > p.ExpectedHigh);
        var below = judged.Count(p => p.Seen < p.ExpectedLow);
        var verdict = last.Seen > high ? "above" : last.Seen < low ? "below" : "within";
        return $"{reading}, {verdict} the expected {Number(low)} to {Number(high)}; among the last {NumberWords.Whole(judged.Count)} judged runs {NumberWords.Whole(above)} above and {NumberWords.Whole(below)} below.";

        string Number(double value) => NumberWords.Fixed(value * factor, decimals);
    }
}
