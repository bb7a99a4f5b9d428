using System.Collections.Immutable;
using MathNet.Numerics;
using Vanehour.Models.PumpLives;
using Vanehour.Models.Survival;

namespace Vanehour.Models.Planning;

/// <summary>
/// What policies cost a year by a fleet's own lives: what was spent so far, and what running to failure and replacement by age would cost in the long run by the Weibull distribution of
/// each model's lives. What the plan would have cost cannot be read off records: it decides by wear that nobody looked at then.
/// </summary>
public static class HistoryCosts
{
    private const double HoursInYear = 24 * 365.25;

    /// <summary>The costs, in order of pump model, then of policy; those by a distribution only where one could be fitted.</summary>
    /// <param name="table">The lives.</param>
    /// <param name="costs">Of jobs and failures.</param>
    /// <param name="fewestFailures">Failures below which no distribution is fitted.</param>
    public static ImmutableArray<HistoryCost> Of(LifeTable table, PlanCosts costs, int fewestFailures)
    {
        ArgumentNullException.ThrowIfNull(table);
        ArgumentNullException.ThrowIfNull(costs);
        return
        [
            .. table.Lives.GroupBy(l => l.PumpModel, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal)
                .SelectMany(g => Of(g.Key, [.. g], costs, fewestFailures)),
        ];
    }

    private static IEnumerable<HistoryCost> Of(string model, IReadOnlyList<PumpLife> lives, PlanCosts costs, int fewestFailures)
    {
        var hours = lives.Sum(l => l.ExitH - l.EntryH);

        // A life's time under observation is taken in proportion to its hours.
        var years = lives.Sum(l => (l.Until - l.FittedAt).TotalHours / HoursInYear * (l.ExitH - l.EntryH) / l.ExitH);
        if (!(years > 0) || !(hours > 0))
        {
            yield break;
        }

        var planned = lives.Count(l => l.Ending == LifeEnding.Rebuilt);
        var failures = lives.Count(l => l.Ending == LifeEnding.Failed);
        yield return new HistoryCost(
            model, HistoryPolicy.SoFar, null, planned / years, failures / years, ((planned * costs.PlannedRebuild) + (failures * costs.Failure)) / years, years);
        if (failures < fewestFailures || WeibullFit.Fit([.. lives.Select(l => l.Lifetime)]) is not { Status: WeibullStatus.Fitted } fit)
        {
            yield break;
        }

        var perYear = hours / years;
        var meanLife = fit.Scale * SpecialFunctions.Gamma(1 + (1 / fit.Shape));
        yield return new HistoryCost(model, HistoryPolicy.RunToFailure, null, 0, perYear / meanLife, perYear * costs.Failure / meanLife, years);
        var best = AgeReplacement.Best(fit.Shape, fit.Scale, costs.PlannedRebuild, costs.Failure);
        if (best.Age is { } age)
        {
            // Cost a cycle is planned + share that fails times what a failure costs more; the mean length of a cycle follows from the rate.
            var cycle = (costs.PlannedRebuild + (best.FailureShare * (costs.Failure - costs.PlannedRebuild))) / best.CostRate;
            yield return new HistoryCost(
                model, HistoryPolicy.AgeReplacement, age, perYear * (1 - best.FailureShare) / cycle, perYear * best.FailureShare / cycle, perYear * best.CostRate, years);
        }
    }
}
