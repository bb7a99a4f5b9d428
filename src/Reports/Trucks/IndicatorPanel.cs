using OxyPlot;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Findings;
using Vanehour.Models.Indicators;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Trucks;

/// <summary>An indicator of the runs against the band in which it is expected.</summary>
internal static class IndicatorPanel
{
    public static Panel OilUse(TruckScope scope)
    {
        var symbol = DisplayUnits.SymbolOf(scope.Units.Oil);
        return Build(scope, scope.Data.OilUse, r => r.OilRateLPerH, scope.Units.OilOf, "Oil use per PTO hour", $"{symbol} per h", "No oil readings.", [0], FindingKind.OilUseHigh, FindingKind.OilUseLow);
    }

    public static Panel TemperatureRise(TruckScope scope)
    {
        var symbol = DisplayUnits.SymbolOf(scope.Units.TemperatureDifference);
        return Build(
            scope,
            scope.Data.TemperatureRise,
            r => r.TempRiseK,
            scope.Units.TemperatureDifferenceOf,
            "Temperature over ambient",
            symbol + " diff.",
            "No temperature readings.",
            [],
            FindingKind.RunningHot,
            FindingKind.CarryOver);
    }

    private static Panel Build(
        TruckScope scope,
        IndicatorSeries? series,
        Func<Run, double?> seenIn,
        Func<double, double> shown,
        string title,
        string axisTitle,
        string nothing,
        double[] always,
        params FindingKind[] kinds)
    {
        var readings = Readings(scope, series, seenIn, shown);
        var bands = BandStretch.Of(scope, readings, sameJudgement: true);
        var scale = ValueScale.Readings(readings.Select(r => r.Seen), [.. always, .. Band(readings)], 4);
        var model = PanelModel.Create(scope, scale);
        var alarms = PanelModel.AddAlarm(scope, model, kinds);
        var since = alarms.Count > 0 ? alarms[0].Since : DateTimeOffset.MaxValue;
        foreach (var band in bands)
        {
            band.DrawBand(model);
        }

        var inside = readings.Where(r => scale.Holds(r.Seen)).ToList();
        var size = readings.Count switch
        {
            > 1200 => 1.2,
            > 150 => 1.8,
            _ => 2.6,
        };
        model.AddDots(inside.Where(r => !r.TooLow && !r.TooHigh).Select(r => r.Point), size, HouseStyle.DataFaint, OxyColors.Undefined);
        foreach (var stretch in BandStretch.Of(scope, readings, sameJudgement: false))
        {
            stretch.DrawSeen(model, scale);
        }

        // A run in ten is outside by chance: only where a finding is open is it a sign.
        DrawOutside(model, inside.Where(r => r.At < since), size + 1, HouseStyle.DataFaint);
        DrawOutside(model, inside.Where(r => r.At >= since), size + 1.4, HouseStyle.Alarm);
        var off = model.AddOffScale(readings.Select(r => r.Point), scale);

        var judged = readings.Any(r => r.ExpectedHigh is not null);
        var level = NumberWords.Fixed((series?.Level ?? 0) * 100, 0);
        return new Panel
        {
            Title = title,
            Key =
            [
                .. KeyItem.OffScale(off),
                new(KeyMark.Line, scope.Bins.Adjective + " mean"),
                .. judged
                    ? new[] { new KeyItem(KeyMark.BandWithMiddle, $"expected of {level} % of runs"), new KeyItem(KeyMark.Outside, "outside") }
                    : [new KeyItem(KeyMark.None, "too young to judge: no band yet")],
            ],
            AxisTitle = axisTitle,
            Share = 1.1,
            Model = model,
            Labels = [.. PanelModel.AlarmLabels(alarms, scope, scale)],
            Empty = readings.Count == 0 ? nothing : null,
        };
    }

    private static void DrawOutside(PlotModel model, IEnumerable<Reading> readings, double size, OxyColor color)
    {
        var list = readings.ToList();
        model.AddTriangles(list.Where(r => r.TooHigh).Select(r => r.Point), true, size, color, OxyColors.Undefined);
        model.AddTriangles(list.Where(r => r.TooLow).Select(r => r.Point), false, size, color, OxyColors.Undefined);
    }

    // The band may flare for a few odd runs; the axis need not follow these.
    private static IEnumerable<double> Band(List<Reading> readings)
    {
        var high = readings.Select(r => r.ExpectedHigh).OfType<double>().Order().ToArray();
        var low = readings.Select(r => r.ExpectedLow).OfType<double>().Order().ToArray();
        return high.Length == 0 || low.Length == 0 ? [] : [high[(high.Length - 1) * 9 / 10], low[(low.Length - 1) / 10]];
    }

    private static List<Reading> Readings(TruckScope scope, IndicatorSeries? series, Func<Run, double?> seenIn, Func<double, double> shown)
    {
        var all = series is { Points.Length: > 0 }
            ? series.Points.Select(p => Reading.Of(scope.Time, p.At, p.RunHours, p.Seen, p.ExpectedLow, p.Expected, p.ExpectedHigh, shown))
            : scope.Runs
                .Where(r => seenIn(r) is not null)
                .Select(r => Reading.Of(scope.Time, r.End, r.HoursH, seenIn(r)!.Value, null, null, null, shown));
        return [.. all.Where(r => r.At >= scope.Time.From && r.At <= scope.Time.AsOf && double.IsFinite(r.Seen))];
    }
}
