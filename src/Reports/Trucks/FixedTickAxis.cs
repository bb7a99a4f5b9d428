using OxyPlot;
using OxyPlot.Axes;
using Vanehour.Reports.Time;

namespace Vanehour.Reports.Trucks;

/// <summary>A time axis with ticks chosen for the whole page; their labels are written once for all panels.</summary>
internal sealed class FixedTickAxis : LinearAxis
{
    private readonly double[] ticks;

    public FixedTickAxis(TimeScale time, IEnumerable<TimeTick> ticks)
    {
        this.ticks = [.. ticks.Select(t => t.Days)];
        Position = AxisPosition.Bottom;
        Minimum = time.Start;
        Maximum = time.End;
        MajorGridlineStyle = LineStyle.Solid;
        MajorGridlineColor = HouseStyle.Grid;
        MajorGridlineThickness = HouseStyle.HairLine;
        TickStyle = TickStyle.None;
        AxislineStyle = LineStyle.Solid;
        AxislineColor = HouseStyle.Axis;
        LabelFormatter = _ => string.Empty;
    }

    /// <inheritdoc/>
    public override void GetTickValues(
        out IList<double> majorLabelValues,
        out IList<double> majorTickValues,
        out IList<double> minorTickValues)
    {
        majorLabelValues = [];
        majorTickValues = ticks;
        minorTickValues = [];
    }
}
