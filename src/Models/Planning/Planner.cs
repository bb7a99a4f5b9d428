using System.Collections.Immutable;
using Vanehour.Models.Findings;
using Vanehour.Models.Planning.Solving;

namespace Vanehour.Models.Planning;

//     WearForecast.Chances --> RiskCurves --> PumpRisk --> WeekCosts ---+
//                                                                      +--> PumpChoices --> ChoiceProblem --> IntegerProgram -> RebuildPlan
//     PlanOptions, PlanMark (pins, blocks) --> PlanCalendar (room) -----+        ^                                                  |
//                                                                               +--------- the plan before (what moving costs) <---+

/// <summary>Chooses at most one week for each pump, inside what the workshop can do, at least expected cost in all. The same input gives the same plan.</summary>
public sealed class Planner
{
    // Weeks that risk is followed beyond the horizon: forecasts give chances for two years.
    private const int RiskWeeks = 104;

    // Below it a slot more is no news, in planned rebuilds; of our own.
    private const double LeastPrice = 0.02;

    // Weeks in which one more slot is tried, for each yard; one alone where a solution takes its time.
    private const int WeeksTried = 3;
    private const int ManyChoices = 10_000;

    private readonly PlanOptions options;

    /// <param name="options">Costs and capacity.</param>
    /// <exception cref="ArgumentException">The options are not sound; the message says what.</exception>
    public Planner(PlanOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        if (options.Problems().ToList() is { Count: > 0 } problems)
        {
            throw new ArgumentException(string.Join(' ', problems), nameof(options));
        }

        this.options = options;
    }

    /// <summary>Makes a plan.</summary>
    public RebuildPlan Make(PlanInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        var remarks = new List<string>();
        var calendar = new PlanCalendar(input.AsOf, input.Marks, options);
        var stop = Stops(input);
        var risks = RiskCurves.Of(input.Wear, input.Trucks, calendar.First, RiskWeeks, options.Costs, remarks);
        var costs = risks.ToDictionary(
            r => r.Truck, r => WeekCosts.Of(r, options.HorizonWeeks, options.Costs, stop.Any(s => s.Truck == r.Truck) ? options.StopFindingRisk : 0), StringComparer.Ordinal);
        var pins = PinKeeping.Keep(input, risks, calendar, remarks);

        // A pump that is cheapest later takes no room there, so leaving it out changes nothing for the others.
        var items = risks
            .Select(r => PumpChoices.Of(r, costs[r.Truck], pins.GetValueOrDefault(r.Truck), Before(input.Previous, r, calendar), calendar, options))
            .Where(c => c.Pin is not null || c.Choices.Any(o => o.Cost < c.Choices[^1].Cost))
            .ToImmutableArray();
        var problem = new ChoiceProblem([.. items.Select(i => i.Choices)], [.. calendar.Capacities]);
        var solution = IntegerProgram.Solve(problem) ?? throw new InvalidOperationException("The plan's problem has no solution, though every pump may wait.");
        var taken = items.Zip(solution.Taken, (item, choice) => (Item: item, item.Ways[choice].Week, item.Ways[choice].Swap)).ToList();
        var waiting = taken.Where(t => t.Item.Pin is null && IsWaiting(t.Item, t.Week, calendar)).ToList();
        var jobs = taken.Where(t => t.Week >= 0).Select(t => Job(t.Item, t.Week, t.Swap, calendar, waiting.Contains(t), input.FittedAt.TryGetValue(t.Item.Risk.Truck, out var at) ? at : null))
            .OrderBy(j => j.Week).ThenBy(j => j.Truck, StringComparer.Ordinal).ToImmutableArray();
        remarks.AddRange(PlanReason.Held(waiting.Select(w => (w.Item, w.Week)), calendar, options));
        var plan = new RebuildPlan
        {
            AsOf = input.AsOf,
            MadeAt = input.MadeAt,
            FirstWeek = calendar.First,
            HorizonWeeks = options.HorizonWeeks,
            Stop = stop,
            Jobs = jobs,
            Later =
            [
                .. risks.Where(r => jobs.All(j => j.Truck != r.Truck))
                    .Select(r => new LaterPump(r.Truck, r.PumpSerial, r.PumpModel, r.Yard, r.LimitBy[options.HorizonWeeks], costs[r.Truck].IsDue, r.LimitAt))
                    .OrderByDescending(l => l.IsDue).ThenByDescending(l => l.ChanceByEnd).ThenBy(l => l.Truck, StringComparer.Ordinal),
            ],
            Moves = [],
            Prices = Prices(problem, solution, waiting.Select(w => w.Item).ToList(), calendar),
            Orders = KitOrders.Of(jobs, calendar.First, options),
            Remarks = [.. remarks],
            Cost = jobs.Sum(j => j.ExpectedCost) + taken.Where(t => t.Week < 0).Sum(t => t.Item.Costs.Later),
            Gap = solution.Cost > 0 ? Math.Max(0, (solution.Cost - solution.Bound) / solution.Cost) : 0,
            CostsAreExamples = options.CostsAreExamples,
        };
        return plan with { Moves = input.Previous is { } previous ? PlanChanges.Between(previous, plan, input.Marks, input.FittedAt) : [] };
    }

    /// <summary>What each week would cost for a pump, and why the plan has it where it is; null where the truck is not planned.</summary>
    /// <param name="input">What the plan was made from.</param>
    /// <param name="plan">The plan.</param>
    /// <param name="truck">The truck.</param>
    public PlanExplanation? Explain(PlanInput input, RebuildPlan plan, string truck)
    {
        ArgumentNullException.ThrowIfNull(input);
        ArgumentNullException.ThrowIfNull(plan);
        var calendar = new PlanCalendar(input.AsOf, input.Marks, options);
        var risk = RiskCurves.Of(input.Wear, input.Trucks, calendar.First, RiskWeeks, options.Costs, []).FirstOrDefault(r => r.Truck == truck);
        if (risk is null)
        {
            return null;
        }

        var costs = WeekCosts.Of(risk, options.HorizonWeeks, options.Costs, Stops(input).Any(s => s.Truck == truck) ? options.StopFindingRisk : 0);
        var job = plan.JobOf(truck);
        var chosen = job?.Week.WeeksAfter(calendar.First);
        var reference = chosen is { } c and >= 0 && c < costs.Weeks.Length ? costs.Weeks[c] : costs.Later;
        return new PlanExplanation
        {
            Truck = truck,
            Risk = risk,
            Job = job,
            CostLater = costs.Later,
            Weeks =
            [
                .. costs.Weeks.Select((cost, week) => new WeekOption(
                    calendar.First.Plus(week), risk.LimitBy[week], risk.FailBy[week], cost, cost - reference, calendar.WhyNot(risk, week) ?? Taken(plan, risk, calendar.First.Plus(week)))),
            ],
        };
    }

    private static ImmutableArray<StopFirst> Stops(PlanInput input) =>
    [
        .. input.Findings
            .Where(f => f is { Truck: not null, Urgency: Urgency.Stop } && f.Status != FindingStatus.Closed)
            .GroupBy(f => f.Truck!, StringComparer.Ordinal)
            .OrderBy(g => g.Min(f => f.Since))
            .ThenBy(g => g.Key, StringComparer.Ordinal)
            .Select(g =>
            {
                var check = g.OrderBy(f => f.Since).SelectMany(f => f.Checks).FirstOrDefault();
                return new StopFirst(g.Key, [.. g.OrderBy(f => f.Since).Select(f => f.Kind)], check?.Name, check?.Caution);
            }),
    ];

    private static int? Before(RebuildPlan? previous, PumpRisk risk, PlanCalendar calendar) =>
        previous?.JobOf(risk.Truck) is { } job && job.PumpSerial == risk.PumpSerial && job.Week.WeeksAfter(calendar.First) is >= 0 and var week && week < calendar.Weeks ? week : null;

    private static bool IsWaiting(PumpChoices item, int week, PlanCalendar calendar)
    {
        var best = item.Cheapest(calendar);
        return best >= 0 && week != best && (week < 0 || item.Costs.Weeks[best] < item.Costs.Weeks[week]) && item.Before != week;
    }

    private PlannedJob Job(PumpChoices item, int week, bool swap, PlanCalendar calendar, bool isWaiting, DateTimeOffset? fittedAt)
    {
        var (risk, costs) = (item.Risk, item.Costs.Weeks);
        var best = costs.IndexOf(costs.Min());
        return new PlannedJob
        {
            Week = calendar.First.Plus(week),
            Truck = risk.Truck,
            PumpSerial = risk.PumpSerial,
            PumpModel = risk.PumpModel,
            Yard = risk.Yard,
            FittedOn = fittedAt is { } fitted ? DateOnly.FromDateTime(fitted.UtcDateTime) : null,
            ExpectedCost = costs[week] - (swap ? options.Costs.SwapSaves : 0),
            ChanceBefore = risk.LimitBy[week],
            ChanceOfFailure = risk.FailBy[week],
            Reason = PlanReason.Of(item, week, best, calendar, isWaiting),
            Pinned = item.Pin is not null,
            Swap = swap,
            BestWeek = calendar.First.Plus(best),
            WeekEarlier = week > 0 ? costs[week - 1] - costs[week] : null,
            WeekLater = week + 1 < costs.Length ? costs[week + 1] - costs[week] : null,
            LimitAt = risk.LimitAt,
            Basis = risk.Basis,
        };
    }

    private string? Taken(RebuildPlan plan, PumpRisk risk, PlanWeek week)
    {
        var others = plan.Jobs.Where(j => j.Week == week && j.Yard == risk.Yard && j.Truck != risk.Truck).Select(j => j.Truck).ToList();
        return others.Count == 0 ? null : $"{(others.Count < options.SlotsOf(risk.Yard) ? "beside" : "full:")} {string.Join(", ", others)}";
    }

    private ImmutableArray<SlotPrice> Prices(ChoiceProblem problem, ChoiceSolution solution, List<PumpChoices> waiting, PlanCalendar calendar)
    {
        var prices = new List<SlotPrice>();
        foreach (var yard in waiting.GroupBy(w => w.Risk.Yard, StringComparer.Ordinal))
        {
            var weeks = yard.Select(w => w.Cheapest(calendar)).GroupBy(w => w).OrderByDescending(g => g.Count()).ThenBy(g => g.Key).Select(g => g.Key).Take(problem.Items.Sum(i => i.Length) > ManyChoices ? 1 : WeeksTried);
            var tried = weeks.Select(week =>
            {
                var slot = calendar.Slot(yard.Key, week);
                var more = IntegerProgram.Solve(problem with { Capacities = problem.Capacities.SetItem(slot, problem.Capacities[slot] + 1) });
                return (week, Saves: solution.Cost - (more?.Cost ?? solution.Cost));
            });
            var (at, saves) = tried.MaxBy(t => t.Saves);
            if (saves > LeastPrice * options.Costs.PlannedRebuild)
            {
                prices.Add(new SlotPrice(yard.Key, calendar.First.Plus(at), saves, yard.Count()));
            }
        }

        return [.. prices.OrderByDescending(p => p.Saves).ThenBy(p => p.Yard, StringComparer.Ordinal)];
    }
}
