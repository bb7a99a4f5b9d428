using OxyPlot;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Time;

namespace Vanehour.Reports.Overview;

/// <summary>The heads, axes and grid lines of the overview's columns.</summary>
internal static class FleetGrid
{
    private const EdgeRenderingMode Edges = EdgeRenderingMode.Automatic;

    public static void Draw(EmbeddedFontContext context, TimeScale time, double top, double bottom, double right)
    {
        var title = top - 44;
        context.Text(FleetColumns.Truck, title, "Truck", HouseStyle.Label);
        context.Text(FleetColumns.Findings, title, "Open findings", HouseStyle.Label);
        context.Text(FleetColumns.Wear - 6, title, "Wear (1 = limit)", HouseStyle.Label);
        context.Text(FleetColumns.Limit, title, "Date of the limit", HouseStyle.Label);
        context.Text(FleetColumns.Oil, title, "Oil", HouseStyle.Label, HorizontalAlignment.Center);
        context.Text(FleetColumns.Temperature, title, "Temp.", HouseStyle.Label, HorizontalAlignment.Center);

        foreach (var (wear, label) in new[] { (0.0, "0"), (0.5, "0.5"), (1.0, "1") })
        {
            var x = FleetColumns.Wear + (wear / FleetColumns.HighestWear * FleetColumns.WearWidth);
            Line(x, wear == 1 ? HouseStyle.Alarm : HouseStyle.Grid, wear == 1 ? HouseStyle.LimitLine : HouseStyle.HairLine);
            context.Text(x, top - 18, label, HouseStyle.Tick, HorizontalAlignment.Center);
            context.Text(x, bottom + 6, label, HouseStyle.Tick, HorizontalAlignment.Center);
        }

        var area = new OxyRect(FleetColumns.Limit - 40, top - 20, FleetColumns.LimitWidth + 64, bottom - top + 60);
        Line(FleetColumns.Limit, HouseStyle.Ink, 1);
        Label("now", HouseStyle.Label, new LabelSpot(FleetColumns.Limit + 1, top - 18, HorizontalAlignment.Right));
        foreach (var tick in TimeTicks.Between(time.Start, time.End, 5))
        {
            var x = FleetColumns.Limit + ((tick.Days - time.Start) / (time.End - time.Start) * FleetColumns.LimitWidth);
            Line(x, HouseStyle.Grid, HouseStyle.HairLine);
            Label(
                tick.Brief,
                HouseStyle.Tick,
                new LabelSpot(x, top - 18, HorizontalAlignment.Center),
                new LabelSpot(Math.Max(x, FleetColumns.Limit + 9), top - 18, HorizontalAlignment.Left));
        }

        context.DrawLine([new(HouseStyle.PageMargin - 6, top), new(right + 6, top)], HouseStyle.Axis, 1, Edges);
        context.DrawLine([new(HouseStyle.PageMargin - 6, bottom), new(right + 6, bottom)], HouseStyle.Axis, 1, Edges);

        // The same labels above and below the rows: where one has no room, the other has none either.
        void Label(string label, TextStyle style, params LabelSpot[] spots)
        {
            if (LabelPlacer.Place(context, area, label, style, spots) is { } box)
            {
                context.Text(box.Left, bottom + 6, label, style);
            }
        }

        void Line(double x, OxyColor color, double thickness) => context.DrawLine([new(x, top), new(x, bottom)], color, thickness, Edges);
    }
}
