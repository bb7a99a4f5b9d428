using Vanehour.Fleet;
using Vanehour.Models.Findings;
using Vanehour.Models.Indicators;
using Vanehour.Models.Results;
using Vanehour.Models.VaneWear;

namespace Vanehour.Reports.Overview;

/// <summary>One truck of the overview.</summary>
internal sealed record FleetRow(Truck Truck, WearForecast? Wear, IReadOnlyList<Finding> Findings, IndicatorState Oil, IndicatorState Temperature)
{
    // Older readings say nothing of a pump's state now; chosen.
    private const double FreshDays = 30;

    public bool MustStop => Findings.Any(f => f.Urgency == Urgency.Stop);

    /// <summary>The median date of the limit.</summary>
    public DateTimeOffset? Limit => Wear?.DateOfLimit?.P50;

    /// <summary>A row for each truck in service, what needs doing first on top: findings to stop for, then the date of the limit (the median, else the early end), then other findings by urgency.</summary>
    public static IReadOnlyList<FleetRow> Of(AnalysisSnapshot snapshot, IEnumerable<Truck> trucks)
    {
        var wear = snapshot.Wear.ToLookup(w => w.Truck, StringComparer.Ordinal);
        var findings = snapshot.Findings.Where(f => f.Status != FindingStatus.Closed).ToLookup(f => f.Truck ?? string.Empty, StringComparer.Ordinal);
        var series = snapshot.Series.ToLookup(s => s.Truck, StringComparer.Ordinal);
        return [.. trucks
            .Where(t => t.InService)
            .Select(t =>
            {
                var open = findings[t.Id].OrderBy(f => f.Urgency).ToList();
                return new FleetRow(
                    t,
                    wear[t.Id].FirstOrDefault(),
                    open,
                    State(Indicator.OilUse, FindingKind.OilUseLow, FindingKind.OilUseHigh),
                    State(Indicator.TemperatureRise, null, FindingKind.RunningHot));

                IndicatorState State(Indicator indicator, FindingKind? low, FindingKind high) =>
                    open.Any(f => f.Kind == low) ? IndicatorState.Low
                    : open.Any(f => f.Kind == high) ? IndicatorState.High
                    : series[t.Id].FirstOrDefault(s => s.Indicator == indicator) is not { Points: [.., var last] } ? IndicatorState.NoData
                    : (snapshot.AsOf - last.At).TotalDays > FreshDays ? IndicatorState.NoData
                    : last.Expected is null ? IndicatorState.Young
                    : IndicatorState.Normal;
            })
            .OrderByDescending(r => r.MustStop)
            .ThenBy(r => r.Limit ?? DateTimeOffset.MaxValue)
            .ThenBy(r => r.Wear?.DateOfLimit?.P10 ?? DateTimeOffset.MaxValue)
            .ThenBy(r => r.Findings.Count > 0 ? (int)r.Findings[0].Urgency : int.MaxValue)
            .ThenBy(r => r.Truck.Id, StringComparer.Ordinal)];
    }
}
