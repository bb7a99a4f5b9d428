using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Scoring;
using Vanehour.Simulator;

namespace Vanehour.Bench.Checks;

/// <summary>Recognition of start-up checks on simulated fleets against what the crews did, with 7 % part-full mornings and 5 % checks cut short.</summary>
internal static class CheckStudy
{
    private const double HighM = 1000;
    private const double WornFrom = 0.7;

    public static void Run(IReadOnlyList<long> seeds, TextWriter output)
    {
        foreach (var intervalS in new[] { 5, 2 })
        {
            var usual = seeds.SelectMany(seed => Trucks(Options(seed, intervalS, 24, 4), null, _ => true)).ToList();
            var long1 = seeds.SelectMany(seed => Trucks(Options(seed, intervalS, 24, 30), new RunToFailurePolicy(), t => t.Elevation?.Metres > HighM)).ToList();
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Samples every {intervalS} s while the vacuum rises; seeds {string.Join(", ", seeds)}"));
            output.WriteLine();
            output.WriteLine("| checks | good | recognised | precision | recall | good ones missed | recognised wrongly |");
            output.WriteLine("| --- | ---: | ---: | ---: | ---: | --- | --- |");
            var all = new CheckScore([.. usual.SelectMany(t => t)]);
            output.WriteLine(all.Line("24 trucks, 4 months"));
            output.WriteLine(all.Of(c => c.Undisturbed).Line("of these without a fault"));
            output.WriteLine(all.Of(c => c.Wear > WornFrom).Line("of these worn > 0.7"));
            var high = new CheckScore([.. long1.SelectMany(t => t)]);
            output.WriteLine(high.Line("6 trucks above 1 000 m, run to failure, 30 months"));
            output.WriteLine(high.Of(c => c.Wear > WornFrom).Line("of these worn > 0.7"));
            output.WriteLine(high.Of(c => c.Wear > 1).Line("of these worn > 1"));
            output.WriteLine();
            output.WriteLine("| error of | pairs | within 1 se | within 2 se | spread |");
            output.WriteLine("| --- | ---: | ---: | ---: | ---: |");
            output.WriteLine(ErrorCoverage.Of(usual, NetFlow).Line("flow kept, speed known or not"));
            output.WriteLine(ErrorCoverage.Of(usual, p => p.SpeedRpm is null ? null : NetFlow(p)).Line("flow kept, speed known"));
            output.WriteLine(ErrorCoverage.Of(usual, LeakRatio).Line("leak ratio"));
            output.WriteLine();
        }
    }

    /// <summary>The judged checks of each truck of a fleet.</summary>
    /// <param name="options">Which fleet.</param>
    /// <param name="policy">When its pumps are rebuilt; null for the usual one.</param>
    /// <param name="which">Which of its trucks.</param>
    public static List<IReadOnlyList<JudgedCheck>> Trucks(SimulationOptions options, IMaintenancePolicy? policy, Func<Truck, bool> which)
    {
        var fleet = SimulatedFleet.Create(options, policy);
        var truth = fleet.Truth();
        var limits = fleet.PumpModels.ToDictionary(m => m.Model, m => m.FlowKeptLimit, StringComparer.Ordinal);
        return [.. fleet.Trucks.Where(which).AsParallel().AsOrdered().Select(truck => (IReadOnlyList<JudgedCheck>)[.. JudgedCheck.Pair(
            truth.Checks.Where(c => c.Truck == truck.Id),
            SimulatedRuns.Of(fleet, truck).Runs,
            limits[truck.PumpModel],
            truck.Elevation?.Metres ?? 0,
            [.. truth.Faults.Where(f => f.Truck == truck.Id)])])];
    }

    /// <summary>The fleet as the figures that are promised speak of it.</summary>
    public static SimulationOptions Options(long seed, int intervalS, int trucks, int months) => new()
    {
        Trucks = trucks,
        Months = months,
        Seed = seed,
        PumpDownIntervalS = intervalS,
        PartFullChance = 0.07,
        CutShortChance = 0.05,
    };

    /// <summary>Net flow at the reference vacuum over gas volume and its standard error, 1/s.</summary>
    public static (double Value, double Se)? NetFlow(PumpDown p) => (p.NetFlowPerVolumePerS, p.NetFlowPerVolumeSe);

    /// <summary>The leak ratio and its standard error; null where it is unknown.</summary>
    public static (double Value, double Se)? LeakRatio(PumpDown p) => p is { LeakRatio: { } ratio, LeakRatioSe: { } se } ? (ratio, se) : null;
}
