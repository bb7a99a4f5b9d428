using OxyPlot;
using OxyPlot.Series;
using Vanehour.Reports.Drawing;

namespace Vanehour.Reports.Trucks;

/// <summary>The marks that the panels draw with.</summary>
internal static class Marks
{
    private static readonly ScreenPoint[] Down = [new(-1, -0.8), new(1, -0.8), new(0, 1)];
    private static readonly ScreenPoint[] Up = [new(-1, 0.8), new(1, 0.8), new(0, -1)];

    /// <summary>The area between two lines.</summary>
    public static void AddBand(this PlotModel model, IReadOnlyList<DataPoint> low, IReadOnlyList<DataPoint> high, OxyColor fill)
    {
        var band = new AreaSeries { Color = OxyColors.Transparent, Color2 = OxyColors.Transparent, Fill = fill, StrokeThickness = 0 };
        band.Points.AddRange(low);
        band.Points2.AddRange(high);
        model.Series.Add(band);
    }

    public static void AddLine(
        this PlotModel model,
        IEnumerable<DataPoint> points,
        OxyColor color,
        double thickness,
        LineStyle style = LineStyle.Solid,
        string? axisKey = null)
    {
        var line = new LineSeries { Color = color, StrokeThickness = thickness, LineStyle = style, LineJoin = LineJoin.Round };
        if (axisKey is not null)
        {
            line.YAxisKey = axisKey;
        }

        line.Points.AddRange(points);
        model.Series.Add(line);
    }

    public static void AddDots(this PlotModel model, IEnumerable<DataPoint> points, double size, OxyColor fill, OxyColor stroke) =>
        Add(model, points, MarkerType.Circle, null, size, fill, stroke);

    /// <summary>Triangles: pointing up for what is above what it should be, down for below.</summary>
    public static void AddTriangles(this PlotModel model, IEnumerable<DataPoint> points, bool up, double size, OxyColor fill, OxyColor stroke) =>
        Add(model, points, MarkerType.Custom, up ? Up : Down, size, fill, stroke);

    public static void AddDiamonds(this PlotModel model, IEnumerable<DataPoint> points, double size, OxyColor fill, OxyColor stroke) =>
        Add(model, points, MarkerType.Diamond, null, size, fill, stroke);

    /// <summary>Draws readings that lie off the scale as hollow triangles at its edge, so that none vanishes silently.</summary>
    /// <returns>How many there are.</returns>
    public static int AddOffScale(this PlotModel model, IEnumerable<DataPoint> points, ValueScale scale)
    {
        var off = points.Where(p => !scale.Holds(p.Y)).ToList();
        var inset = (scale.High - scale.Low) * 0.04;
        model.AddTriangles(off.Where(p => p.Y > scale.High).Select(p => new DataPoint(p.X, scale.High - inset)), true, 4, HouseStyle.Paper, HouseStyle.Alarm);
        model.AddTriangles(off.Where(p => p.Y < scale.Low).Select(p => new DataPoint(p.X, scale.Low + inset)), false, 4, HouseStyle.Paper, HouseStyle.Alarm);
        return off.Count;
    }

    private static void Add(
        PlotModel model,
        IEnumerable<DataPoint> points,
        MarkerType type,
        ScreenPoint[]? outline,
        double size,
        OxyColor fill,
        OxyColor stroke)
    {
        var series = new ScatterSeries
        {
            MarkerType = type,
            MarkerOutline = outline,
            MarkerSize = size,
            MarkerFill = fill,
            MarkerStroke = stroke,
            MarkerStrokeThickness = stroke.IsVisible() ? 1.1 : 0,
        };
        series.Points.AddRange(points.Select(p => new ScatterPoint(p.X, p.Y)));
        if (series.Points.Count > 0)
        {
            model.Series.Add(series);
        }
    }
}
