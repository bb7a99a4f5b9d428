using System.Globalization;
using Vanehour.Models.Analysis;
using Vanehour.Models.Planning;
using Vanehour.Models.PumpLives;
using Vanehour.Models.Survival;
using Vanehour.Simulator;

namespace Vanehour.Scoring.Policies;

/// <summary>Takes one simulated fleet through the same days and accidents of wear under each policy, and counts what it costs.</summary>
public static class PolicyStudy
{
    private const double DaysInYear = 365.25;

    // Share of pumps past the limit up to which an interval keeps it; of our own.
    private const double PastLimitAllowed = 0.1;

    /// <summary>Compares.</summary>
    /// <param name="fleet">The fleet; service records of past lives are what age replacement learns from.</param>
    /// <param name="options">How.</param>
    /// <param name="progress">Told the share that is done.</param>
    /// <param name="cancellationToken">Stops between passes, and between weeks of the plan.</param>
    /// <exception cref="ArgumentException">The options are not sound; the message says what.</exception>
    public static PolicyStudyResult Run(SimulatedFleet fleet, PolicyStudyOptions options, IProgress<double>? progress, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        ArgumentNullException.ThrowIfNull(options);
        if (options.Problems() is { Count: > 0 } problems)
        {
            throw new ArgumentException(string.Join(' ', problems), nameof(options));
        }

        var costs = options.Plan.Costs;
        var years = (fleet.End - fleet.Start).TotalDays / DaysInYear;
        var passes = options.IntervalsH.Count + 4.0;
        var done = 0;
        PolicyOutcome Pass(IMaintenancePolicy policy)
        {
            cancellationToken.ThrowIfCancellationRequested();
            var outcome = fleet.RunUnder(policy);
            progress?.Report(++done / passes);
            return outcome;
        }

        var failing = Pass(new RunToFailurePolicy());
        var inspected = Pass(InspectionPolicy.Instance);
        var fixedOnes = options.IntervalsH.Select(h => (IntervalH: h, Outcome: Pass(new FixedIntervalPolicy(h)))).ToList();
        var best = fixedOnes.MinBy(f => f.Outcome.Trucks.Sum(t => CostOf(t, costs)));
        var inLimit = fixedOnes.Where(f => f.Outcome.PastLimit <= PastLimitAllowed * (f.Outcome.PlannedRebuilds + f.Outcome.Failures)).OrderBy(f => f.Outcome.Trucks.Sum(t => CostOf(t, costs))).FirstOrDefault();
        var modelOf = fleet.Trucks.ToDictionary(t => t.Id, t => t.PumpModel, StringComparer.Ordinal);
        var byModel = modelOf.Values.Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)
            .ToDictionary(m => m, m => fixedOnes.MinBy(f => f.Outcome.Trucks.Where(t => modelOf[t.Truck] == m).Sum(t => CostOf(t, costs))), StringComparer.Ordinal);
        var byModelOutcome = new PolicyOutcome([.. best.Outcome.Trucks.Select((t, i) => byModel[modelOf[t.Truck]].Outcome.Trucks[i])]);
        var ages = Ages(fleet, costs);
        var aged = Pass(new ModelIntervalPolicy(ages));
        var planning = new PlanPolicy(fleet, options.Analysis, options.Plan, options.PlanEveryWeeks);
        var planned = fleet.RunTogether(planning, progress is null ? null : new Last(progress, done / passes), cancellationToken);
        return new PolicyStudyResult
        {
            Policies =
            [
                Row(PolicyName.RunToFailure, null, failing),
                Row(PolicyName.FixedInterval, Hours(best.IntervalH), best.Outcome),
                .. inLimit.Outcome is null ? Array.Empty<PolicyCost>() : [Row(PolicyName.FixedIntervalInLimit, Hours(inLimit.IntervalH), inLimit.Outcome)],
                Row(PolicyName.FixedIntervalByModel, string.Join(", ", byModel.Select(m => $"{m.Key} {Hours(m.Value.IntervalH)}")), byModelOutcome),
                Row(PolicyName.AgeReplacement, ages.Count == 0 ? "no distribution could be fitted" : string.Join(", ", ages.OrderBy(a => a.Key, StringComparer.Ordinal).Select(a => $"{a.Key} {Hours(a.Value)}")), aged),
                Row(PolicyName.MonthlyInspection, null, inspected),
                Row(PolicyName.Plan, null, planned),
            ],
            SavedOfFixedInterval = Saved(planned, best.Outcome),
            SavedOfFixedIntervalInLimit = inLimit.Outcome is null ? null : Saved(planned, inLimit.Outcome),
            SavedOfFixedIntervalByModel = Saved(planned, byModelOutcome),
            TruckYears = fleet.Trucks.Length * years,
            Plans = planning.Plans,
            CostsAreExamples = options.Plan.CostsAreExamples,
        };

        PolicyCost Row(PolicyName name, string? setting, PolicyOutcome outcome)
        {
            var count = outcome.Trucks.Length;
            var cost = TruckResampling.Interval([.. outcome.Trucks.Select(t => CostOf(t, costs))], [.. Enumerable.Repeat(years, count)]);
            return new PolicyCost(name, setting, outcome.PlannedRebuilds / years / count, outcome.Failures / years / count, outcome.PastLimit / years / count, cost.Mid!.Value, cost.Low!.Value, cost.High!.Value);
        }

        ShareSaved Saved(PolicyOutcome plan, PolicyOutcome other)
        {
            var ratio = TruckResampling.Interval([.. plan.Trucks.Select(t => CostOf(t, costs))], [.. other.Trucks.Select(t => CostOf(t, costs))]);
            return new ShareSaved(1 - ratio.High!.Value, 1 - ratio.Mid!.Value, 1 - ratio.Low!.Value);
        }
    }

    /// <summary>What a truck cost over the whole time.</summary>
    internal static double CostOf(PolicyOutcomeOfTruck truck, PlanCosts costs) =>
        (truck.PlannedRebuilds * costs.PlannedRebuild) + (truck.Failures * costs.Failure)
        + (costs.PlannedRebuild * (Math.Min(1, truck.WearAtEnd) - Math.Min(1, truck.WearAtStart)));

    // By the lives before the first day alone: a keeper could have known them.
    private static Dictionary<string, double> Ages(SimulatedFleet fleet, PlanCosts costs)
    {
        var before = FleetData.Build(fleet.PumpModels, fleet.Trucks, [.. fleet.ServiceRecords.Where(r => r.At < fleet.Start)], _ => [], fleet.Start);
        return LifeTable.Build(before).Lives
            .GroupBy(l => l.PumpModel, StringComparer.Ordinal)
            .Select(g => (Model: g.Key, Fit: WeibullFit.Fit([.. g.Select(l => l.Lifetime)]), Failures: g.Count(l => l.Ending == LifeEnding.Failed)))
            .Where(m => m.Failures >= new LifeOptions().FewestFailures && m.Fit.Status == WeibullStatus.Fitted)
            .Select(m => (m.Model, AgeReplacement.Best(m.Fit.Shape, m.Fit.Scale, costs.PlannedRebuild, costs.Failure).Age))
            .Where(m => m.Age is not null)
            .ToDictionary(m => m.Model, m => m.Age!.Value, StringComparer.Ordinal);
    }

    private static string Hours(double hours) => string.Create(CultureInfo.InvariantCulture, $"{hours:0} h");

    private sealed class Last(IProgress<double> progress, double from) : IProgress<double>
    {
        public void Report(double value) => progress.Report(from + ((1 - from) * value));
    }
}
