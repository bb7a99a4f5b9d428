using System.Globalization;
using Vanehour.Fleet.Runs;
using Vanehour.Scoring;
using Vanehour.Simulator;

namespace Vanehour.Bench.Checks;

/// <summary>What dirt in the telemetry does to runs: the same trucks and days with dirt 1 and with dirt 0, run against run.</summary>
internal static class DirtStudy
{
    public static void Run(IReadOnlyList<long> seeds, TextWriter output)
    {
        var pairs = seeds.SelectMany(s => Pairs(s, trucks: 12, months: 4, dirt: 1)).ToList();
        var both = pairs.Where(p => p is { Clean: not null, Dirty: not null }).ToList();
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"Seeds {string.Join(", ", seeds)}: {pairs.Count(p => p.Clean is not null)} clean runs, {pairs.Count(p => p.Dirty is not null)} dirty runs, {both.Count} in both, {both.Count(p => p.IsSame)} of them the same but for samples and notes."));
        output.WriteLine();
        output.WriteLine("| of runs in both | same within 0.1 % | median of the others | largest | of the others without a note |");
        output.WriteLine("| --- | ---: | ---: | ---: | ---: |");
        Line("duration, h", r => (r.End - r.Start).TotalHours);
        Line("hours, h", r => r.HoursH);
        Line("oil used, L", r => r.OilUsedL);
        Line("vacuum mean, kPa", r => r.VacuumMeanKPa);
        Line("vacuum max, kPa", r => r.VacuumMaxKPa);
        Line("pump temperature max, Cel", r => r.PumpTempMaxC);
        Line("temperature rise, K", r => r.TempRiseK);
        Line("net flow, 1/s", r => r.FirstPumpDown?.NetFlowPerVolumePerS);
        output.WriteLine();
        output.WriteLine(Counts("Only clean", pairs.Where(p => p.Dirty is null)));
        output.WriteLine(Counts("Only dirty", pairs.Where(p => p.Clean is null)));
        output.WriteLine(Counts("A check in one only", both.Where(p => p.IsCheckInOneOnly)));
        output.WriteLine();
        foreach (var pair in pairs.Where(p => p.IsFarOff).Take(40))
        {
            output.WriteLine(pair.Line);
        }

        void Line(string name, Func<Run, double?> value)
        {
            var differences = both
                .Select(p => (Pair: p, A: value(p.Clean!), B: value(p.Dirty!)))
                .Where(d => d is { A: not null, B: not null })
                .Select(d => (d.Pair, Share: Math.Abs(d.B!.Value - d.A!.Value) / Math.Max(Math.Abs(d.A!.Value), 1e-6), Size: Math.Abs(d.B!.Value - d.A!.Value)))
                .ToList();
            var others = differences.Where(d => d.Share > 0.001).OrderBy(d => d.Size).ToList();
            output.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"| {name} | {1 - (others.Count / (double)differences.Count):F3} | {(others.Count > 0 ? others[others.Count / 2].Size : 0):G3} | {(others.Count > 0 ? others[^1].Size : 0):G3} | {others.Count(d => d.Pair.Dirty!.Quality.Notes.Except(d.Pair.Clean!.Quality.Notes).FirstOrDefault((RunNote)(-1)) == (RunNote)(-1))} |"));
        }
    }

    /// <summary>Runs of the same fleet without and with dirt, paired by time.</summary>
    public static List<RunPair> Pairs(long seed, int trucks, int months, double dirt)
    {
        var options = CheckStudy.Options(seed, 5, trucks, months);
        var clean = SimulatedFleet.Create(options);
        var dirty = SimulatedFleet.Create(options with { Dirt = dirt });
        var events = dirty.Truth().Gateway.ToLookup(e => e.Truck);
        return [.. clean.Trucks.AsParallel().AsOrdered().SelectMany(truck => RunPair.Of(
            SimulatedRuns.Of(clean, truck).Runs, SimulatedRuns.Of(dirty, dirty.Trucks.Single(t => t.Id == truck.Id)).Runs, [.. events[truck.Id]]))];
    }

    private static string Counts(string name, IEnumerable<RunPair> pairs) => $"{name}: " + string.Join(
        ", ",
        pairs.GroupBy(p => string.Join("+", p.Events.Select(e => e.Kind).Distinct().Order())).OrderByDescending(g => g.Count())
            .Select(g => string.Create(CultureInfo.InvariantCulture, $"{(g.Key.Length == 0 ? "nothing injected" : g.Key)} {g.Count()}")));
}
