using OxyPlot;
using OxyPlot.Axes;
using OxyPlot.Series;
using Vanehour.Fleet.Lives;
using Vanehour.Reports.Drawing;

namespace Vanehour.Reports.Trucks;

/// <summary>PTO hours per day, week or month, and the hours since fitting as a line.</summary>
internal static class HoursPanel
{
    // A silence as long as this is worth a word; chosen.
    private const double LongSilenceDays = 14;

    public static Panel Build(TruckScope scope)
    {
        var bins = scope.Bins;
        var sums = scope.Runs
            .Where(r => r.Start >= scope.Time.From)
            .GroupBy(r => bins.StartOf(r.Start))
            .Select(g => (Start: g.Key, Hours: g.Sum(r => r.HoursH)))
            .ToList();
        var scale = ValueScale.Readings(sums.Select(s => s.Hours), [0, 1], 4);
        var model = PanelModel.Create(scope, scale);
        var bars = new RectangleBarSeries { FillColor = HouseStyle.DataFaint, StrokeThickness = 0 };
        foreach (var (start, hours) in sums)
        {
            var left = Math.Max(DateTimeAxis.ToDouble(start), scope.Time.Start);
            var right = Math.Min(DateTimeAxis.ToDouble(bins.EndOf(start)), scope.Time.Now);
            var inset = (right - left) * 0.12;
            bars.Items.Add(new RectangleBarItem(left + inset, 0, right - inset, Math.Min(hours, scale.High)));
        }

        model.Series.Add(bars);
        var off = model.AddOffScale(sums.Select(s => new DataPoint(bins.MiddleOf(s.Start), s.Hours)), scale);

        var lines = scope.Lives.Select(l => HoursOfLife(scope, l)).Where(l => l.Count > 0).ToList();
        var labels = Silences(scope, scale).ToList();
        if (lines.Count > 0)
        {
            var right = ValueScale.Round(0, Math.Max(1, lines.Max(l => l.Max(p => p.Y))), 4);
            var axis = PanelModel.ValueAxis(right, AxisPosition.Right);
            axis.Key = PanelModel.RightKey;
            model.Axes.Add(axis);
            foreach (var line in lines)
            {
                model.AddLine(line, HouseStyle.Ink, HouseStyle.DataLine, axisKey: PanelModel.RightKey);
            }
        }

        return new Panel
        {
            Title = $"PTO hours per {bins.Name}",
            Key =
            [
                .. KeyItem.OffScale(off),
                new(KeyMark.Bar, "hours run"),
                .. lines.Count > 0 ? new[] { new KeyItem(KeyMark.InkLine, "hours since fitting, right axis") } : [],
            ],
            AxisTitle = $"h per {bins.Name}",
            RightAxisTitle = lines.Count > 0 ? "h, total" : null,
            Share = 0.95,
            Model = model,
            Labels = labels,
            Empty = scope.Runs.Count == 0 ? "No runs yet." : sums.Count == 0 ? "No runs in this time." : null,
        };
    }

    // The register says how long a life was at its end (or the forecast says it of now); runs say how it got there.
    private static List<DataPoint> HoursOfLife(TruckScope scope, Life life)
    {
        var runs = scope.Runs.Where(r => life.Covers(r.Start)).ToList();
        if (runs.Count == 0)
        {
            return [];
        }

        var seen = runs.Sum(r => r.HoursH);
        var atEnd = life == scope.Life ? scope.HoursSinceFitting ?? seen : life.MeterAtEndH - life.MeterAtFittingH ?? seen;
        var hours = Math.Max(0, atEnd - seen);
        var points = new List<DataPoint> { new(scope.Time.DaysOf(runs[0].Start), hours) };
        foreach (var run in runs)
        {
            hours += run.HoursH;
            points.Add(new DataPoint(scope.Time.DaysOf(run.End), hours));
        }

        points.Add(new DataPoint(scope.Time.DaysOf(life.EndedAt ?? scope.Time.AsOf), hours));
        return points;
    }

    private static IEnumerable<PanelLabel> Silences(TruckScope scope, ValueScale scale)
    {
        var room = (scope.Time.End - scope.Time.Start) / 12;
        DateTimeOffset? last = scope.Runs.Count > 0 ? scope.Runs[0].End : null;
        foreach (var (start, end) in scope.Runs.Skip(1).Select(r => (r.Start, r.End)).Append((scope.Time.AsOf, scope.Time.AsOf)))
        {
            if (last is { } before && before >= scope.Time.From && (start - before).TotalDays > Math.Max(LongSilenceDays, room))
            {
                yield return new PanelLabel(
                    "no runs",
                    scale.Low + ((scale.High - scale.Low) * 0.15),
                    HouseStyle.Small,
                    (scope.Time.DaysOf(before) + scope.Time.DaysOf(start)) / 2);
            }

            last = end;
        }
    }
}
