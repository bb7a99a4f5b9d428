using OxyPlot;
using Vanehour.Models.Survival;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Comparing;

/// <summary>One measure of every model: a marker with its limits, and the number. A marker without limits is open.</summary>
/// <param name="Title">What it is.</param>
/// <param name="Unit">In what.</param>
/// <param name="Decimals">Of the numbers.</param>
/// <param name="Values">Of each model, in the unit; null where there is none.</param>
internal sealed record MeasureStrip(string Title, string Unit, int Decimals, IReadOnlyList<EstimateWithLimits?> Values)
{
    /// <summary>From one model to the next, layout units.</summary>
    public const double RowHeight = 26;

    private const double NumberWidth = 58;

    // Limits further out than this many of the largest value are cut off with an arrow: they would squash the rest.
    private const double Farthest = 2;

    public void Draw(EmbeddedFontContext context, IReadOnlyList<ComparedRow> rows, double top, double left, double width)
    {
        context.Text(left, top, Title, HouseStyle.Label);
        context.Text(left, top + 17, Unit, HouseStyle.Small);
        top += 40;
        var bottom = top + (rows.Count * RowHeight);
        if (Scale() is not { } scale)
        {
            context.Text(left, top + 6, "not known yet", HouseStyle.Note);
            return;
        }

        var area = new PlotArea(new OxyRect(left, top, width - NumberWidth, bottom - top), scale.Low, scale.High, 0, 1);
        for (var at = Math.Ceiling((scale.Low / scale.Step) - 1e-9) * scale.Step; at <= scale.High; at += scale.Step)
        {
            context.DrawLine([new(area.X(at), top), new(area.X(at), bottom + 4)], HouseStyle.Grid, HouseStyle.HairLine, EdgeRenderingMode.Automatic);
            LabelPlacer.Place(
                context,
                new OxyRect(left - 14, bottom, area.Box.Width + 34, 24),
                NumberWords.Tick(at, scale.Step),
                HouseStyle.Small,
                [new LabelSpot(area.X(at), bottom + 6, HorizontalAlignment.Center)]);
        }

        context.DrawLine([new(area.Box.Left, bottom), new(area.Box.Right, bottom)], HouseStyle.Axis, HouseStyle.HairLine, EdgeRenderingMode.Automatic);
        for (var i = 0; i < rows.Count; i++)
        {
            DrawValue(context, area, rows[i].Style, Values[i], top + ((i + 0.5) * RowHeight));
        }
    }

    private ValueScale? Scale()
    {
        var mids = Values.Select(v => v?.Mid).OfType<double>().ToList();
        if (mids.Count == 0)
        {
            return null;
        }

        var reach = Farthest * Math.Max(mids.Max(Math.Abs), 1e-9);
        var high = Math.Min(reach, Values.Max(v => v?.High ?? v?.Mid) ?? 0);
        var low = Math.Max(-reach, Values.Min(v => v?.Low ?? v?.Mid) ?? 0);
        return ValueScale.Round(low > 0 && low < high / 2 ? 0 : low, high, 3);
    }

    private void DrawValue(EmbeddedFontContext context, PlotArea area, ModelStyle style, EstimateWithLimits? value, double y)
    {
        if (value?.Mid is not { } mid)
        {
            context.Text(area.Box.Right + NumberWidth - 4, y, "–", HouseStyle.Tick, HorizontalAlignment.Right, VerticalAlignment.Middle);
            return;
        }

        if (value is { Low: { } low, High: { } high })
        {
            var (from, to) = (area.X(Math.Clamp(low, area.Left, area.Right)), area.X(Math.Clamp(high, area.Left, area.Right)));
            context.DrawLine([new(from, y), new(to, y)], style.Color, HouseStyle.DataLine, EdgeRenderingMode.Automatic);
            End(from, low < area.Left ? -1 : 0);
            End(to, high > area.Right ? 1 : 0);
        }

        // What lies off the scale is a fault; its number still says so.
        if (mid >= area.Left && mid <= area.Right)
        {
            style.DrawMark(context, area.X(mid), y, value.Low is null);
        }

        context.Text(area.Box.Right + NumberWidth - 4, y, NumberWords.Fixed(mid, Decimals), HouseStyle.Tick with { Color = HouseStyle.Ink }, HorizontalAlignment.Right, VerticalAlignment.Middle);

        void End(double x, int beyond) => context.DrawLine(
            beyond == 0 ? [new(x, y - 4), new(x, y + 4)] : [new(x - (5 * beyond), y - 4), new(x, y), new(x - (5 * beyond), y + 4)],
            style.Color,
            1.4,
            EdgeRenderingMode.Automatic);
    }
}
