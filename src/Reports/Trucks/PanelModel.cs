using OxyPlot;
using OxyPlot.Annotations;
using OxyPlot.Axes;
using Vanehour.Models.Findings;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Trucks;

/// <summary>Starts the charts of a page: the same axes, grounds and event lines for all.</summary>
internal static class PanelModel
{
    /// <summary>The key of a value axis on the right.</summary>
    public const string RightKey = "right";

    public static PlotModel Create(TruckScope scope, ValueScale scale)
    {
        var model = new PlotModel
        {
            PlotAreaBorderThickness = new OxyThickness(0),
            IsLegendVisible = false,
            Background = OxyColors.Undefined,
        };
        model.Axes.Add(new FixedTickAxis(scope.Time, scope.Ticks));
        model.Axes.Add(ValueAxis(scale, AxisPosition.Left));
        model.Annotations.Add(new RectangleAnnotation
        {
            MinimumX = scope.Time.Now,
            MaximumX = scope.Time.End,
            Fill = HouseStyle.Ahead,
            Layer = AnnotationLayer.BelowAxes,
        });
        foreach (var life in scope.Lives)
        {
            AddEvent(scope, model, life.FittedAt);
            if (life.EndedAt is { } end)
            {
                AddEvent(scope, model, end);
            }
        }

        model.Annotations.Add(Vertical(scope.Time.Now, HouseStyle.Ink, LineStyle.Solid, 1));
        return model;
    }

    public static LinearAxis ValueAxis(ValueScale scale, AxisPosition position) => new()
    {
        Position = position,
        Minimum = scale.Low,
        Maximum = scale.High,
        MajorStep = scale.Step,
        MinorTickSize = 0,
        MajorTickSize = 4,
        TickStyle = TickStyle.Outside,
        TicklineColor = HouseStyle.Axis,
        AxislineStyle = LineStyle.Solid,
        AxislineColor = HouseStyle.Axis,
        MajorGridlineStyle = position == AxisPosition.Left ? LineStyle.Solid : LineStyle.None,
        MajorGridlineColor = HouseStyle.Grid,
        MajorGridlineThickness = HouseStyle.HairLine,
        FontSize = HouseStyle.Tick.Size,
        FontWeight = HouseStyle.Tick.Weight,
        TextColor = HouseStyle.Tick.Color,
        LabelFormatter = v => NumberWords.Tick(v, scale.Step),
    };

    /// <summary>A line across the panel at a value.</summary>
    public static void AddLevel(this PlotModel model, double value, LineStyle style, double thickness, OxyColor color) =>
        model.Annotations.Add(new LineAnnotation
        {
            Type = LineAnnotationType.Horizontal,
            Y = value,
            Color = color,
            LineStyle = style,
            StrokeThickness = thickness,
            Layer = AnnotationLayer.BelowSeries,
        });

    /// <summary>Marks the time since which open findings of these kinds say that something is wrong here.</summary>
    /// <returns>These findings, one of each kind, the one open longest first.</returns>
    public static IReadOnlyList<Finding> AddAlarm(TruckScope scope, PlotModel model, params FindingKind[] kinds)
    {
        var findings = scope.Data.Findings.Where(f => kinds.Contains(f.Kind)).OrderBy(f => f.Since).DistinctBy(f => f.Kind).ToList();
        if (findings.Count > 0)
        {
            model.Annotations.Add(new RectangleAnnotation
            {
                MinimumX = Math.Max(scope.Time.DaysOf(findings[0].Since), scope.Time.Start),
                MaximumX = scope.Time.Now,
                Fill = HouseStyle.AlarmGround,
                Layer = AnnotationLayer.BelowAxes,
            });
        }

        return findings;
    }

    /// <summary>The labels of a marked time: right of it, where no data are, one below the other.</summary>
    public static IEnumerable<PanelLabel> AlarmLabels(IReadOnlyList<Finding> findings, TruckScope scope, ValueScale scale) => findings.Select(f =>
        new PanelLabel("\u2190 " + FindingWords.Of(f.Kind), scale.High - ((scale.High - scale.Low) * 0.16), HouseStyle.Label, scope.Time.Now, RightOf: true));

    private static void AddEvent(TruckScope scope, PlotModel model, DateTimeOffset at)
    {
        if (scope.Time.Shows(at))
        {
            model.Annotations.Add(Vertical(scope.Time.DaysOf(at), HouseStyle.Muted, LineStyle.Dot, 1.2));
        }
    }

    private static LineAnnotation Vertical(double days, OxyColor color, LineStyle style, double thickness) => new()
    {
        Type = LineAnnotationType.Vertical,
        X = days,
        Color = color,
        LineStyle = style,
        StrokeThickness = thickness,
        Layer = AnnotationLayer.BelowSeries,
    };
}
