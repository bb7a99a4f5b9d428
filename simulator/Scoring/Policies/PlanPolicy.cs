using System.Collections.Concurrent;
using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Fleet.Lives;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Analysis;
using Vanehour.Models.Planning;
using Vanehour.Models.Runs;
using Vanehour.Models.VaneWear;
using Vanehour.Simulator;

namespace Vanehour.Scoring.Policies;

/// <summary>
/// Rebuilds by the plan: runs are derived from the samples, wear is fitted and the plan made every so many weeks, with nothing known but what a keeper would; the jobs of each
/// week are done on the Sunday before it. Findings are left out: only wear forecasts decide.
/// </summary>
public sealed class PlanPolicy : IFleetPolicy
{
    private static readonly TimeSpan RunsLookedBackOn = TimeSpan.FromDays(60);

    private readonly SimulatedFleet _fleet;
    private readonly Dictionary<string, PumpModel> _models;
    private readonly Dictionary<string, Truck> _trucks;
    private readonly ConcurrentDictionary<string, Deriving> _runs = new(StringComparer.Ordinal);
    private readonly FleetWear _wear;
    private readonly ulong _seed;
    private readonly Planner _planner;
    private readonly int _every;
    private Dictionary<string, IReadOnlyList<ServiceRecord>> _recordsOf = new(StringComparer.Ordinal);
    private RebuildPlan? _plan;
    private int _weeks;

    /// <param name="fleet">The fleet; only its register is looked at.</param>
    /// <param name="analysis">How wear is fitted.</param>
    /// <param name="plan">Costs and capacity.</param>
    /// <param name="everyWeeks">Weeks from one plan to the next, 1 or more.</param>
    public PlanPolicy(SimulatedFleet fleet, AnalysisOptions analysis, PlanOptions plan, int everyWeeks)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        ArgumentNullException.ThrowIfNull(analysis);
        ArgumentOutOfRangeException.ThrowIfLessThan(everyWeeks, 1);
        _fleet = fleet;
        _models = fleet.PumpModels.ToDictionary(m => m.Model, StringComparer.Ordinal);
        _trucks = fleet.Trucks.ToDictionary(t => t.Id, StringComparer.Ordinal);
        _wear = new FleetWear(analysis.Wear);
        _seed = analysis.Seed;
        _planner = new Planner(plan);
        _every = everyWeeks;
    }

    /// <summary>The runs of a truck as derived so far.</summary>
    internal IReadOnlyList<Run> RunsOf(string truck) => _runs.TryGetValue(truck, out var deriving) ? deriving.Runs : [];

    /// <summary>Plans made.</summary>
    public int Plans { get; private set; }

    /// <inheritdoc/>
    public void See(string truck, IReadOnlyList<Sample> samples)
    {
        ArgumentNullException.ThrowIfNull(samples);
        var deriving = _runs.GetOrAdd(truck, _ => new Deriving());
        var records = _recordsOf.TryGetValue(truck, out var own) ? own : [];
        var ordered = samples.OrderBy(s => s.UnixMs).Where(s => s.UnixMs > deriving.LastMs).DistinctBy(s => s.UnixMs).ToList();
        if (deriving.Deriver is null || records.Count != deriving.Records)
        {
            // What the shop has done since (a rebuild, a relief setting) counts from now on.
            deriving.Deriver?.Finish(deriving.Runs);
            var end = deriving.Runs.Count == 0 ? DateTimeOffset.MinValue : deriving.Runs[^1].End;
            deriving.Deriver = new RunDeriver(
                new RunContext(_trucks[truck], records, _models, new RunSettings()), [.. deriving.Runs.Where(r => end - r.End <= RunsLookedBackOn)]);
            deriving.Records = records.Count;
            foreach (var sample in deriving.LastDay)
            {
                if (sample.At <= end)
                {
                    deriving.Deriver.Remember(sample);
                }
                else
                {
                    deriving.Deriver.Push(sample, deriving.Runs);
                }
            }
        }

        foreach (var sample in ordered)
        {
            deriving.Deriver.Push(sample, deriving.Runs);
        }

        if (ordered.Count > 0)
        {
            deriving.LastMs = ordered[^1].UnixMs;
            deriving.LastDay = ordered;
        }
    }

    /// <inheritdoc/>
    public IReadOnlySet<string> Choose(DateOnly sunday, IReadOnlyList<ServiceRecord> records)
    {
        _recordsOf = records.GroupBy(r => r.Truck, StringComparer.Ordinal).ToDictionary(g => g.Key, g => (IReadOnlyList<ServiceRecord>)[.. g], StringComparer.Ordinal);
        var week = PlanWeek.Of(sunday.AddDays(1));
        if (_weeks++ % _every == 0)
        {
            _plan = Make(new DateTimeOffset(sunday, new TimeOnly(12, 0), TimeSpan.Zero), records);
            Plans++;
        }

        return _plan!.Jobs.Where(j => j.Week == week).Select(j => j.Truck).ToImmutableHashSet(StringComparer.Ordinal);
    }

    private RebuildPlan Make(DateTimeOffset asOf, IReadOnlyList<ServiceRecord> records)
    {
        var data = FleetData.Build(_fleet.PumpModels, _fleet.Trucks, records, RunsOf, asOf);
        var own = records.ToLookup(r => r.Truck, StringComparer.Ordinal);
        return _planner.Make(new PlanInput
        {
            AsOf = asOf,
            MadeAt = asOf,
            Wear = [.. _wear.Forecast(data, _seed, CancellationToken.None).Select(w => w.Forecast)],
            Findings = [],
            Trucks = _fleet.Trucks,
            FittedAt = _fleet.Trucks.ToDictionary(t => t.Id, t => LifeHistory.Build(t, own[t.Id]) is [.., var life] ? life.FittedAt : t.PumpFitted, StringComparer.Ordinal),
            Marks = [],
            Previous = _plan,
        });
    }

    private sealed class Deriving
    {
        public List<Run> Runs { get; } = [];

        public RunDeriver? Deriver { get; set; }

        public List<Sample> LastDay { get; set; } = [];

        public int Records { get; set; }

        public long LastMs { get; set; } = long.MinValue;
    }
}
