using Vanehour.Models.Findings;
using Vanehour.Models.Regression;
using Vanehour.Simulator;

namespace Vanehour.Scoring;

/// <summary>Scores the finding of vanes that began to wear faster.</summary>
public static class DriftScorer
{
    private const double WithinH = 200;

    /// <summary>Scores; null where no vanes began to.</summary>
    public static DriftScore? Score(FleetTruth truth, ReplayResult replay, ReplayFleet fleet)
    {
        ArgumentNullException.ThrowIfNull(truth);
        ArgumentNullException.ThrowIfNull(replay);
        ArgumentNullException.ThrowIfNull(fleet);
        if (truth.Drifts.IsEmpty)
        {
            return null;
        }

        var stories = replay.Findings.Where(s => s.First.Kind is FindingKind.VacuumFading or FindingKind.VanesNearLimit).ToLookup(s => s.Truck, StringComparer.Ordinal);
        var drifts = truth.Drifts.Where(d => HasTime(d.Truck, d.Onset)).Select(d => HoursToFinding(d.Truck, d.Onset)).ToList();
        var onsets = truth.Drifts.Select(d => d.Onset).Order().ToList();
        var middle = onsets[onsets.Count / 2];
        var others = fleet.Trucks.Select(t => t.Id).Except(truth.Drifts.Select(d => d.Truck)).Where(t => HasTime(t, middle)).Select(t => HoursToFinding(t, middle)).ToList();
        var found = drifts.OfType<double>().ToList();
        return new DriftScore(drifts.Count, WithinH, Share(drifts), found.Count == 0 ? null : Robust.Median(found), Share(others));

        bool HasTime(string truck, DateTimeOffset from) => fleet.HoursBetween(truck, from, replay.To) >= WithinH;

        double? HoursToFinding(string truck, DateTimeOffset from) =>
            stories[truck].FirstOrDefault(s => s.OpenedAt >= from) is { } story ? fleet.HoursBetween(truck, from, story.OpenedAt) : null;

        static ShareWithInterval Share(List<double?> hours) =>
            TruckResampling.Interval([.. hours.Select(h => h <= WithinH ? 1.0 : 0)], [.. hours.Select(_ => 1.0)]);
    }
}
