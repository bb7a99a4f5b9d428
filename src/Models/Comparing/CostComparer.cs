using System.Collections.Immutable;
using System.Globalization;
using Vanehour.Models.PumpLives;
using Vanehour.Models.Survival;

namespace Vanehour.Models.Comparing;

/// <summary>
/// What each pump model costs per PTO hour: what its planned rebuilds and failures cost over the hours that its lives were under observation, which in the long run is the
/// cost rate of the policy that was followed (renewal-reward theorem: Ross, Stochastic Processes (1996), section 3.6). Limits by resampling trucks with all their lives
/// (Efron and Tibshirani, An Introduction to the Bootstrap (1993), chapter 13: percentiles).
/// </summary>
/// <remarks>A pump taken off in working order costs nothing here: what became of it is not in the records. Vanes, labour and downtime are in the two costs; oil and fuel are not.</remarks>
/// <param name="options">The two costs and the level.</param>
public sealed class CostComparer(LifeOptions options)
{
    private const int Resamples = 2000;
    private const int Seed = 20261127;

    // Below them the percentiles of resampled trucks are too narrow; of our own.
    private const int FewestTrucks = 5;
    private const int FewestEvents = 3;

    /// <summary>One for each model, in order of the models.</summary>
    public ImmutableArray<ModelCost> Compare(IReadOnlyList<ModelLife> models, LifeTable table)
    {
        ArgumentNullException.ThrowIfNull(models);
        ArgumentNullException.ThrowIfNull(table);
        var byModel = table.Lives.ToLookup(l => l.PumpModel, StringComparer.Ordinal);
        return [.. models.Select(m => Of(m, [.. byModel[m.PumpModel]]))];
    }

    private ModelCost Of(ModelLife model, IReadOnlyList<PumpLife> lives)
    {
        var trucks = lives.GroupBy(l => l.Truck, StringComparer.Ordinal)
            .OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => (Cost: g.Sum(CostOf), Hours: g.Sum(l => l.ExitH - l.EntryH)))
            .ToArray();
        var hours = trucks.Sum(t => t.Hours);
        var best = model.Replacement?.CostPerH * options.PlannedRebuildCost;
        ImmutableArray<string> said = best is { } rateAtBest && model.Replacement?.AgeH is { } age
            ? [string.Create(CultureInfo.InvariantCulture, $"Rebuilt at {age:F0} h at the latest, each would cost {1000 * rateAtBest:0.###} per 1000 h by the Weibull distribution.")]
            : [];
        if (!(hours > 0))
        {
            return new ModelCost(model.PumpModel, trucks.Length, 0, null, best, [.. said, "No hours under observation, so no cost per hour."]);
        }

        var rate = trucks.Sum(t => t.Cost) / hours;
        var events = lives.Count(l => CostOf(l) > 0);
        if (trucks.Length < FewestTrucks || events < FewestEvents)
        {
            return new ModelCost(
                model.PumpModel,
                trucks.Length,
                hours,
                new EstimateWithLimits(null, rate, null),
                best,
                [.. said, $"{Counted(trucks.Length, "truck")} with {Counted(events, "rebuild or failure", "rebuilds and failures")}: too few for limits of the cost per hour; it takes {FewestTrucks} trucks and {FewestEvents} of those."]);
        }

        var (low, high) = Percentiles(trucks);
        return new ModelCost(model.PumpModel, trucks.Length, hours, new EstimateWithLimits(low, rate, high), best, said);
    }

    private double CostOf(PumpLife life) => life.Ending switch
    {
        LifeEnding.Failed => options.FailureCostRatio * options.PlannedRebuildCost,
        LifeEnding.Rebuilt => options.PlannedRebuildCost,
        _ => 0,
    };

    private static string Counted(int count, string one, string? many = null) => count == 1 ? $"1 {one}" : $"{count} {many ?? one + "s"}";

    private (double Low, double High) Percentiles((double Cost, double Hours)[] trucks)
    {
        var random = new Random(Seed);
        var rates = new double[Resamples];
        for (var i = 0; i < Resamples; i++)
        {
            var (cost, hours) = (0.0, 0.0);
            for (var j = 0; j < trucks.Length; j++)
            {
                var drawn = trucks[random.Next(trucks.Length)];
                cost += drawn.Cost;
                hours += drawn.Hours;
            }

            rates[i] = cost / hours;
        }

        Array.Sort(rates);
        return (At((1 - options.Level) / 2), At((1 + options.Level) / 2));

        double At(double share) => rates[(int)Math.Clamp(Math.Floor(share * Resamples), 0, Resamples - 1)];
    }
}
