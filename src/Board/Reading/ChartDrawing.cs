using Vanehour.Fleet;
using Vanehour.Reports;
using Vanehour.Reports.Planning;
using Vanehour.Reports.Trucks;
using Vanehour.Reports.Words;

namespace Vanehour.Board.Reading;

/// <summary>Puts together what charts are drawn from.</summary>
/// <param name="fleet">The fleet.</param>
/// <param name="reader">Its reader.</param>
public sealed class ChartDrawing(BoardFleet fleet, FleetReader reader)
{
    /// <summary>The chart of a truck; null where nothing is analysed yet.</summary>
    public DrawnChart? Truck(Truck truck, FleetNow now)
    {
        ArgumentNullException.ThrowIfNull(truck);
        if (TruckData(truck, now) is not { } data)
        {
            return null;
        }

        var (title, said) = ($"Trend of {truck.Id}", ChartAlternative.Of(data, fleet.Drawing));
        return new DrawnChart(title, said, TruckReport.RenderSvg(data, fleet.Drawing, new SvgCaption { IdPrefix = "trend-chart", Title = title, Description = said }), TruckTrend.Of(data, fleet.Drawing));
    }

    /// <summary>The picture of the plan; null where there is none.</summary>
    public DrawnChart? Plan(FleetNow now)
    {
        if (PlanData(now) is not { } data)
        {
            return null;
        }

        var (title, said) = ("Rebuild plan by week", ChartAlternative.Of(data));
        return new DrawnChart(title, said, PlanReport.RenderSvg(data, fleet.Drawing, new SvgCaption { IdPrefix = "plan-chart", Title = title, Description = said }));
    }

    /// <summary>What a truck's chart is drawn from; null where nothing is analysed yet.</summary>
    public TruckReportData? TruckData(Truck truck, FleetNow now)
    {
        ArgumentNullException.ThrowIfNull(truck);
        ArgumentNullException.ThrowIfNull(now);
        return reader.AnalysisOf(truck, now) is { } analysis
            ? TruckReportData.Of(analysis, truck, now.Models, fleet.Runs.Read(truck.Id), fleet.Register.ServiceRecords(truck.Id))
            : null;
    }

    /// <summary>What the picture of the plan is drawn from; null where there is no plan.</summary>
    public PlanReportData? PlanData(FleetNow now)
    {
        ArgumentNullException.ThrowIfNull(now);
        return now.Plan is { } plan
            ? new PlanReportData(plan, fleet.PlanOptions, now.Marks, [.. now.Trucks.Where(t => t.InService).Select(t => t.Yard).Distinct(StringComparer.Ordinal)])
            : null;
    }
}
