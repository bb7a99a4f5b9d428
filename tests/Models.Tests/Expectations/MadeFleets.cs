using Vanehour.Fleet.Runs;
using Vanehour.Models.Analysis;
using Vanehour.Models.Tests.Synthetic;

namespace Vanehour.Models.Tests.Expectations;

/// <summary>Fleets for the comparison of candidates, their runs changed at will. Every value is invented.</summary>
internal static class MadeFleets
{
    public static SyntheticFleet Of(int trucks, int days, int seed = 1, Func<SyntheticTruck, SyntheticTruck>? change = null) => new(
        [.. Enumerable.Range(0, trucks).Select(i => (change ?? (t => t))(new SyntheticTruck { Id = $"T{i + 1}", OilFactor = 0.9 + (0.03 * i), WarmerK = i - 3 }))],
        days,
        seed);

    /// <summary>The fleet with every run changed.</summary>
    public static FleetData With(this SyntheticFleet fleet, Func<Run, Run> change) =>
        FleetData.Build([fleet.Model], fleet.Trucks, fleet.Records, t => [.. fleet.RunsOf(t).Select(change)], fleet.End);

    /// <summary>Oil use that is least at 45 kPa and grows to both sides, which no line can follow.</summary>
    public static Run Curved(Run run) => run with { OilUsedL = run.OilUsedL + (run.HoursH * Bend(run)) };

    /// <summary>What <see cref="Curved"/> adds, L/h.</summary>
    public static double Bend(Run run) => 0.002 * Math.Pow(run.VacuumMeanKPa!.Value - 45, 2);
}
