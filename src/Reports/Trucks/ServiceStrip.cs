using OxyPlot;
using Vanehour.Fleet;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Trucks;

/// <summary>The dates and the service records above the panels: a tick for each record, a label for as many as have room, the weightiest first, repeated routine work labelled once.</summary>
internal static class ServiceStrip
{
    /// <summary>Its height, layout units.</summary>
    public const double Height = 62;

    private const double RowPitch = 18;

    /// <param name="page">Where to draw.</param>
    /// <param name="scope">What to draw.</param>
    /// <param name="area">Between the left and right ends of the time axis.</param>
    public static void Draw(Page page, TruckScope scope, OxyRect area)
    {
        var context = page.Context;
        DateRow.Draw(context, scope.Time, scope.Ticks, area.Left, area.Right, area.Top, sayToday: true);

        context.Text(HouseStyle.PageMargin, area.Top + RowPitch + 2, "Service", HouseStyle.Note);
        var ground = area.Bottom - 5;
        context.DrawLine(
            [new ScreenPoint(area.Left, ground), new ScreenPoint(area.Right, ground)],
            HouseStyle.Axis,
            HouseStyle.HairLine,
            EdgeRenderingMode.Automatic);

        var shown = scope.Service.Where(r => scope.Time.Shows(r.At)).ToList();

        // Lines first, so that no line runs through a label.
        foreach (var record in shown)
        {
            DrawTick(context, record.Kind, DateRow.XOf(scope.Time, record.At, area.Left, area.Right), ground);
        }

        var unlabelled = 0;
        var labelArea = new OxyRect(area.Left - 30, area.Top + RowPitch, area.Width + 30 + (page.Bounds.Right - HouseStyle.PageMargin - area.Right), 2 * RowPitch);
        foreach (var (record, label, stands) in Labels(scope, shown))
        {
            var x = DateRow.XOf(scope.Time, record.At, area.Left, area.Right);
            var style = ServiceWords.EndsOrStartsLife(record.Kind) ? HouseStyle.Label : HouseStyle.Note;
            var spots = Spots(x, area.Top + (2 * RowPitch) + 1).Concat(Spots(x, area.Top + RowPitch + 1));
            if (LabelPlacer.Place(context, labelArea, label, style, spots) is null)
            {
                unlabelled += stands;
            }
        }

        if (shown.Count == 0)
        {
            context.Text(area.Left + 4, area.Top + (2 * RowPitch) + 1, "no service records in this time", HouseStyle.Note);
        }
        else if (unlabelled > 0)
        {
            context.Text(HouseStyle.PageMargin, area.Top + (2 * RowPitch) + 2, unlabelled == 1 ? "+1 tick" : $"+{NumberWords.Whole(unlabelled)} ticks", HouseStyle.Small);
        }
    }

    // What is told apart by its value or starts a life gets a label each; of routine work only the last, with the count, since "when last" is the question.
    private static IEnumerable<(ServiceRecord Record, string Label, int StandsFor)> Labels(TruckScope scope, List<ServiceRecord> shown)
    {
        var days = shown
            .Select(r => (Record: r, Day: scope.Time.LocalOf(r.At).Date, Label: ServiceWords.Of(r, scope.Units)))
            .DistinctBy(r => (r.Day, r.Label))
            .ToList();
        var single = days.Where(r => !ServiceWords.IsRoutine(r.Record.Kind)).Select(r => (r.Record, r.Label, 1));
        var routine = days
            .Where(r => ServiceWords.IsRoutine(r.Record.Kind))
            .GroupBy(r => r.Record.Kind)
            .Select(g => (Last: g.MaxBy(r => r.Record.At), Count: g.DistinctBy(r => r.Day).Count()))
            .Select(g => (
                g.Last.Record,
                g.Count == 1 ? g.Last.Label : $"{ServiceWords.Of(g.Last.Record.Kind)} (last of {NumberWords.Whole(g.Count)})",
                g.Count));
        return single.Concat(routine).OrderBy(r => ServiceWords.Rank(r.Record.Kind)).ThenByDescending(r => r.Record.At);
    }

    private static IEnumerable<LabelSpot> Spots(double x, double y) =>
    [
        new(x, y, HorizontalAlignment.Center),
        new(x - 3, y, HorizontalAlignment.Left),
        new(x + 3, y, HorizontalAlignment.Right),
    ];

    private static void DrawTick(EmbeddedFontContext context, ServiceKind kind, double x, double ground)
    {
        if (ServiceWords.EndsOrStartsLife(kind))
        {
            const double R = 5;
            context.DrawPolygon(
                [new(x, ground - R), new(x + R, ground), new(x, ground + R), new(x - R, ground)],
                HouseStyle.Ink,
                OxyColors.Undefined,
                0,
                EdgeRenderingMode.Automatic);
            return;
        }

        context.DrawLine([new(x, ground - 4), new(x, ground + 4)], HouseStyle.Ink, 1.2, EdgeRenderingMode.Automatic);
    }
}
