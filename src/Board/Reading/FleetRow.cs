using Vanehour.Fleet;
using Vanehour.Models.Findings;
using Vanehour.Models.Planning;
using Vanehour.Models.VaneWear;

namespace Vanehour.Board.Reading;

/// <summary>One truck as the page of the fleet shows it.</summary>
/// <param name="Truck">The truck.</param>
/// <param name="Findings">Its open findings, most urgent first.</param>
/// <param name="Wear">Its wear forecast, or null.</param>
/// <param name="Job">Its planned rebuild, or null.</param>
public sealed record FleetRow(Truck Truck, IReadOnlyList<Finding> Findings, WearForecast? Wear, PlannedJob? Job)
{
    /// <summary>The most urgent of its findings; null without any.</summary>
    public Urgency? Urgency => Findings.Count == 0 ? null : Findings[0].Urgency;

    /// <summary>The fleet, what needs doing first first: findings that say stop, those for this week, rebuilds by their week, then the date of the limit.</summary>
    public static IReadOnlyList<FleetRow> Of(FleetNow now)
    {
        ArgumentNullException.ThrowIfNull(now);
        var jobs = (now.Plan?.Jobs ?? []).DistinctBy(j => j.Truck).ToDictionary(j => j.Truck, StringComparer.Ordinal);
        return
        [
            .. now.Trucks.Select(t => new FleetRow(t, [.. now.FindingsOf[t.Id]], now.Wear.GetValueOrDefault(t.Id), jobs.GetValueOrDefault(t.Id)))
                .OrderBy(r => !r.Truck.InService)
                .ThenBy(r => r.Urgency is Models.Findings.Urgency.Stop or Models.Findings.Urgency.Week ? r.Urgency : Models.Findings.Urgency.Later)
                .ThenBy(r => r.Job?.Week.Start ?? DateTimeOffset.MaxValue)
                .ThenBy(r => r.Urgency is null)
                .ThenBy(r => r.Wear?.DateOfLimit?.P50 ?? DateTimeOffset.MaxValue)
                .ThenBy(r => r.Truck.Id, StringComparer.Ordinal),
        ];
    }
}
