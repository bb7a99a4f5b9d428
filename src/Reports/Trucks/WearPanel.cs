using OxyPlot;
using Vanehour.Models.VaneWear;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Time;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Trucks;

/// <summary>Vane wear with its fitted line, its projection and the limit at 1.</summary>
internal static class WearPanel
{
    // Wear is read between new (0) and the limit (1). What the axis shows of what lies beyond: enough below for the scatter of a new pump, above for
    // the limit and its labels; further only for a pump that is worn further. A reading outside is marked at the edge. Chosen.
    private const double LowestShown = -0.25;
    private const double HighestShown = 1.6;
    private const double WorstShown = 3;

    public static Panel Build(TruckScope scope)
    {
        var time = scope.Time;
        var wear = scope.Data.Wear;
        var checks = (wear?.Checks ?? [])
            .Where(c => time.Shows(c.At) && double.IsFinite(c.Wear))
            .Select(c => (Point: new DataPoint(time.DaysOf(c.At), c.Wear), c.IsBaseline))
            .ToList();
        var fan = (wear?.Fan ?? [])
            .Where(p => double.IsFinite(p.Low) && double.IsFinite(p.Mid) && double.IsFinite(p.High))
            .ToList();
        var scale = Scale(checks.Select(c => c.Point.Y).Concat((wear?.VaneWidths ?? []).Where(w => time.Shows(w.At)).Select(w => w.Wear)), fan.Where(p => time.Shows(p.At)));
        var model = PanelModel.Create(scope, scale);

        List<WearFanPoint> past = [.. fan.TakeWhile(p => p.At <= time.AsOf)];
        List<WearFanPoint> ahead = [.. fan.Where((p, i) => p.At >= time.AsOf || (i + 1 < fan.Count && fan[i + 1].At > time.AsOf))];
        DrawFan(model, time, past, LineStyle.Solid);
        DrawFan(model, time, ahead, LineStyle.Dash);
        model.AddLevel(1, LineStyle.Solid, 2, HouseStyle.Alarm);

        var inside = checks.Where(c => scale.Holds(c.Point.Y)).ToList();
        var size = checks.Count > 400 ? 1.6 : 2.2;
        model.AddDots(inside.Where(c => c.IsBaseline).Select(c => c.Point), size, HouseStyle.Paper, HouseStyle.DataFaint);
        model.AddDots(inside.Where(c => !c.IsBaseline).Select(c => c.Point), size, HouseStyle.DataFaint, OxyColors.Undefined);
        var off = model.AddOffScale(checks.Select(c => c.Point), scale);
        DrawMiddle(model, time, past, LineStyle.Solid);
        DrawMiddle(model, time, ahead, LineStyle.Dash);

        var widths = (wear?.VaneWidths ?? []).Where(w => time.Shows(w.At) && scale.Holds(w.Wear)).Select(w => new DataPoint(time.DaysOf(w.At), w.Wear)).ToList();
        model.AddDiamonds(widths, 5, HouseStyle.Paper, HouseStyle.Ink);

        var labels = new List<PanelLabel>();
        if (wear?.DateOfLimit is { } limit)
        {
            DrawLimitDates(model, scope, limit, wear.Status == ForecastStatus.Provisional, labels);
        }

        labels.Add(new PanelLabel("limit: wear 1", 1, HouseStyle.Label, LeftFirst: true));
        var empty = ForecastWords.NothingToDraw(wear);
        return new Panel
        {
            Title = "Vane wear",
            Key = empty is null && wear is not null ? Key(wear, checks.Any(c => c.IsBaseline), widths.Count > 0, off) : [],
            AxisTitle = "wear, 1 = limit",
            Share = 1.8,
            Model = model,
            Labels = labels,
            Empty = empty,
        };
    }

    internal static ValueScale Scale(IEnumerable<double> checks, IEnumerable<WearFanPoint> fan)
    {
        var readings = ValueScale.Readings(checks.Select(c => Math.Clamp(c, LowestShown, WorstShown)), [0, 1.1], 6);
        var middle = Math.Min(WorstShown, fan.Select(p => p.Mid).DefaultIfEmpty(0).Max());
        var worn = Math.Max(HighestShown, middle + 0.1);
        var high = Math.Clamp(Math.Max(readings.High, fan.Select(p => p.High).DefaultIfEmpty(0).Max() + 0.05), 1.25, worn);
        var low = Math.Clamp(readings.Low, LowestShown, -0.05);
        return new ValueScale(low, high, high - low > 1.6 ? 0.5 : 0.2);
    }

    private static IReadOnlyList<KeyItem> Key(WearForecast wear, bool ownBaseline, bool hasWidths, int off) =>
    [
        .. KeyItem.OffScale(off),
        .. wear.WearPer1000H is { } r && double.IsFinite(r)
            ? new[] { new KeyItem(KeyMark.None, $"{NumberWords.Fixed(r, 2)} per {NumberWords.Whole(1000)} PTO h") }
            : [],
        new(KeyMark.FaintDot, "one check"),
        new(KeyMark.Band, "8 chances in 10"),
        new(KeyMark.DashedLine, wear.Status == ForecastStatus.Provisional ? "provisional" : "forecast"),
        .. hasWidths ? new[] { new KeyItem(KeyMark.Diamond, "vane width") } : [],
        .. ownBaseline ? new[] { new KeyItem(KeyMark.FaintRing, "taken as new") } : [],
    ];

    private static void DrawFan(PlotModel model, TimeScale time, List<WearFanPoint> part, LineStyle edge)
    {
        if (part.Count < 2)
        {
            return;
        }

        model.AddBand([.. part.Select(p => new DataPoint(time.DaysOf(p.At), p.Low))], [.. part.Select(p => new DataPoint(time.DaysOf(p.At), p.High))], HouseStyle.Band);
        model.AddLine(part.Select(p => new DataPoint(time.DaysOf(p.At), p.Low)), HouseStyle.BandEdge, 1, edge);
        model.AddLine(part.Select(p => new DataPoint(time.DaysOf(p.At), p.High)), HouseStyle.BandEdge, 1, edge);
    }

    private static void DrawMiddle(PlotModel model, TimeScale time, List<WearFanPoint> part, LineStyle style) =>
        model.AddLine(part.Select(p => new DataPoint(time.DaysOf(p.At), p.Mid)), HouseStyle.Data, HouseStyle.DataLine, style);

    private static void DrawLimitDates(PlotModel model, TruckScope scope, Models.DateQuantiles limit, bool provisional, List<PanelLabel> labels)
    {
        var time = scope.Time;
        if (limit.P10 is { } first && time.DaysOf(first) <= time.End)
        {
            var last = limit.P90 is { } p90 ? Math.Min(time.DaysOf(p90), time.End) : time.End;
            model.AddLine([new DataPoint(Math.Max(time.DaysOf(first), time.Now), 1), new DataPoint(last, 1)], HouseStyle.Ink, 4, provisional ? LineStyle.Dash : LineStyle.Solid);
        }

        Mark(limit.P10, "10 %", false);
        Mark(limit.P50, "50 %", true);
        Mark(limit.P90, "90 %", false);
        if (limit.P50 is { } ahead && ahead > time.To)
        {
            labels.Add(new PanelLabel($"50 % by {ForecastWords.Date(ahead, time)} \u2192", 1, HouseStyle.Label));
        }

        void Mark(DateTimeOffset? at, string text, bool middle)
        {
            if (at is not { } date || !time.Shows(date))
            {
                return;
            }

            var point = new DataPoint(time.DaysOf(date), 1);
            if (middle)
            {
                model.AddDiamonds([point], 7, provisional ? HouseStyle.Paper : HouseStyle.Ink, HouseStyle.Ink);
            }
            else
            {
                model.AddDots([point], 4, HouseStyle.Ink, OxyColors.Undefined);
            }

            labels.Add(new PanelLabel(text, 1, HouseStyle.Label, point.X));
        }
    }
}
