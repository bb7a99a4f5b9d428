using OxyPlot;
using OxyPlot.Series;
using Vanehour.Models.Findings;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Trucks;

/// <summary>Flow kept as read from start-up checks, in per cent of new.</summary>
internal static class FlowPanel
{
    public static Panel Build(TruckScope scope)
    {
        var wear = scope.Data.Wear;
        var checks = (wear?.Checks ?? [])
            .Where(c => scope.Time.Shows(c.At) && double.IsFinite(c.FlowKept))
            .Select(c => (Point: new DataPoint(scope.Time.DaysOf(c.At), c.FlowKept * 100), Se: c.FlowKeptSe * 100, c.IsBaseline))
            .ToList();
        var limit = wear?.FlowKeptLimit ?? scope.Data.Model?.FlowKeptLimit;
        var always = new List<double> { 100 };
        if (limit is { } due)
        {
            always.Add(due * 100);
        }

        var scale = ValueScale.Readings(checks.Select(c => c.Point.Y), always, 4);
        var model = PanelModel.Create(scope, scale);
        var alarms = PanelModel.AddAlarm(scope, model, FindingKind.VacuumFading, FindingKind.LeakOrBlockage);
        var labels = new List<PanelLabel>();
        if (limit is { } at)
        {
            model.AddLevel(at * 100, LineStyle.Solid, HouseStyle.LimitLine, HouseStyle.Alarm);
            labels.Add(new PanelLabel($"vanes due at {NumberWords.Fixed(at * 100, 0)} %", at * 100, HouseStyle.Label));
        }

        var errors = new ScatterErrorSeries
        {
            MarkerType = MarkerType.None,
            ErrorBarColor = HouseStyle.DataFaint,
            ErrorBarStopWidth = 0,
            ErrorBarStrokeThickness = 1,
        };
        errors.Points.AddRange(checks
            .Where(c => scale.Holds(c.Point.Y) && double.IsFinite(c.Se))
            .Select(c => new ScatterErrorPoint(c.Point.X, c.Point.Y, 0, 2 * c.Se)));
        model.Series.Add(errors);

        var inside = checks.Where(c => scale.Holds(c.Point.Y)).ToList();
        var size = checks.Count > 400 ? 1.8 : 2.6;
        model.AddDots(inside.Where(c => c.IsBaseline).Select(c => c.Point), size, HouseStyle.Paper, HouseStyle.Data);
        model.AddDots(inside.Where(c => !c.IsBaseline).Select(c => c.Point), size, HouseStyle.Data, OxyColors.Undefined);
        var off = model.AddOffScale(checks.Select(c => c.Point), scale);

        return new Panel
        {
            Title = "Flow kept at start-up checks",
            Key =
            [
                .. KeyItem.OffScale(off),
                new(KeyMark.Dot, "one check"),
                .. checks.Any(c => c.IsBaseline) ? new[] { new KeyItem(KeyMark.Ring, "taken as new") } : [],
                new(KeyMark.Whisker, "± 1 standard error"),
            ],
            AxisTitle = "% of new",
            Share = 1,
            Model = model,
            Labels = [.. labels, .. PanelModel.AlarmLabels(alarms, scope, scale)],
            Empty = checks.Count > 0 ? null : ForecastWords.NothingToDraw(wear) ?? "No start-up check in this time.",
        };
    }
}
