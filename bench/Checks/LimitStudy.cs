using System.Globalization;
using Vanehour.Fleet.Units;
using Vanehour.Models.Findings;
using Vanehour.Models.Watching;
using Vanehour.Simulator;

namespace Vanehour.Bench.Checks;

/// <summary>
/// What the watch of limits says about simulated samples, one at a time as they would come, with each injected fault and without; beside it the longest time above the limit,
/// counted plainly, which says whether there was anything to call.
/// </summary>
internal static class LimitStudy
{
    /// <param name="seeds">The fleets.</param>
    /// <param name="aboveReliefInHg">How far above its relief setting each model's continuous limit is taken to be, inHg; null for the limits of the invented models, of which the
    /// liquid-cooled one's is so high that no simulated pump passes it.</param>
    /// <param name="output">Where the table goes.</param>
    public static void Run(IReadOnlyList<long> seeds, double? aboveReliefInHg, TextWriter output)
    {
        var trucks = seeds.SelectMany(seed => Trucks(CheckStudy.Options(seed, 5, 100, 12), aboveReliefInHg)).ToList();
        var usual = new WatchOptions();
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"Seeds {string.Join(", ", seeds)}, vacuum limits {(aboveReliefInHg is { } above ? $"taken as {above:F1} inHg above the relief setting" : "as registered")}: {trucks.Count} trucks, {trucks.Sum(t => t.Years):F1} truck-years, {trucks.Sum(t => t.Usual.Count)} calls for a stop after {usual.VacuumHoldS:F0}, {usual.PressureHoldS:F0} and {usual.TemperatureHoldS:F0} s above the limit of vacuum, pressure and temperature; {trucks.Sum(t => t.Quick.Count)} after {WatchedTruck.QuickS:F0} s."));
        output.WriteLine();
        output.WriteLine("| while present | injected | called for a stop | calls | after 30 s: called | calls | median days from onset to the first | longest above vacuum limit, s | pressure | temperature |");
        output.WriteLine("| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
        foreach (var faults in trucks.SelectMany(t => t.Faults.Select(f => (Truck: t, Fault: f))).GroupBy(f => f.Fault.Fault).OrderBy(g => g.Key.ToString(), StringComparer.Ordinal))
        {
            Line(faults.Key.ToString(), [.. faults.Select(f => new Present(f.Truck, f.Fault.Onset, p => IsPresent(f.Fault, p)))]);
        }

        Line("no fault", [.. trucks.Select(t => new Present(t, null, p => !t.Faults.Exists(f => IsPresent(f, p))))]);

        void Line(string name, List<Present> present)
        {
            var (calls, quick, longest) = (
                present.ConvertAll(p => p.Truck.Usual.Where(p.Is).ToList()),
                present.ConvertAll(p => p.Truck.Quick.Where(p.Is).ToList()),
                present.SelectMany(p => p.Truck.Above.Where(p.Is)).ToLookup(a => a.Kind, a => a.Seconds));
            var days = present.Zip(quick).Where(p => p.First.Onset is not null && p.Second.Count > 0).Select(p => (p.Second[0].From - p.First.Onset!.Value).TotalDays).Order().ToList();
            output.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"| {name} | {present.Count} | {calls.Count(c => c.Count > 0)} | {calls.Sum(c => c.Count)} | {quick.Count(c => c.Count > 0)} | {quick.Sum(c => c.Count)} | {(days.Count > 0 ? days[days.Count / 2].ToString("F0", CultureInfo.InvariantCulture) : "")} | {longest[FindingKind.HeldAboveVacuumLimit].DefaultIfEmpty().Max():F0} | {longest[FindingKind.PressureAboveLimit].DefaultIfEmpty().Max():F0} | {longest[FindingKind.RunningHot].DefaultIfEmpty().Max():F0} |"));
        }
    }

    /// <summary>The watched trucks of a fleet.</summary>
    public static List<WatchedTruck> Trucks(SimulationOptions options, double? aboveReliefInHg)
    {
        var fleet = SimulatedFleet.Create(options);
        var models = fleet.PumpModels.ToDictionary(
            m => m.Model,
            m => aboveReliefInHg is { } above ? m with { MaxVacuum = Pressure.FromInchesOfMercury(m.ReliefVacuum!.Value.InchesOfMercury + above) } : m,
            StringComparer.Ordinal);
        var faults = fleet.Truth().Faults.ToLookup(f => f.Truck);
        var years = (fleet.End - fleet.Start).TotalDays / 365.25;
        return [.. fleet.Trucks.AsParallel().AsOrdered().Select(truck => WatchedTruck.Watch(fleet, truck, models[truck.PumpModel], years, [.. faults[truck.Id]]))];
    }

    private static bool IsPresent(TruthFault fault, Passing passing) => fault.Onset <= passing.To && !(fault.Ends < passing.From);

    private sealed record Present(WatchedTruck Truck, DateTimeOffset? Onset, Func<Passing, bool> Is);
}
