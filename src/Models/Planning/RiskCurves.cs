using System.Collections.Immutable;
using MathNet.Numerics.Distributions;
using Vanehour.Fleet;
using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Planning;

/// <summary>Reads the chances of each pump by week from what the analysis kept.</summary>
internal static class RiskCurves
{
    private const double DaysInWeek = 7;

    // How far lives to the limit of one model spread, as a standard deviation of the logarithm, where a pump's own wear is not known; of our own.
    private const double LogLifeSd = 0.35;

    /// <summary>The chances of every truck in service that has a pump and is used; why the others are left out goes to <paramref name="leftOut"/>.</summary>
    /// <param name="wear">The forecasts of the latest analysis.</param>
    /// <param name="trucks">The trucks.</param>
    /// <param name="first">The first week that can be planned.</param>
    /// <param name="weeks">How many weeks from it on.</param>
    /// <param name="costs">What a vane hour is worth, or a rebuild costs.</param>
    /// <param name="leftOut">Takes a sentence for each truck that is left out.</param>
    public static ImmutableArray<PumpRisk> Of(
        IReadOnlyList<WearForecast> wear, IReadOnlyList<Truck> trucks, PlanWeek first, int weeks, PlanCosts costs, List<string> leftOut)
    {
        var byId = trucks.ToDictionary(t => t.Id, StringComparer.Ordinal);
        var inService = wear.Where(w => byId.TryGetValue(w.Truck, out var truck) && truck.InService).OrderBy(w => w.Truck, StringComparer.Ordinal).ToList();
        var usual = UsualLives(inService);
        var risks = ImmutableArray.CreateBuilder<PumpRisk>();
        foreach (var pump in inService)
        {
            var life = usual.GetValueOrDefault(pump.PumpModel) ?? Median(usual.Values.OfType<double>());
            if (pump.Chances.IsEmpty && pump.HoursPerDay is null)
            {
                leftOut.Add($"{pump.Truck} is not planned: {(pump.Checks.IsEmpty ? "no run of it was heard of late" : "it has not run of late")}.");
            }
            else if (life is null)
            {
                leftOut.Add($"{pump.Truck} is not planned: there is no wear forecast for it, nor for any other pump to go by.");
            }
            else
            {
                risks.Add(Risk(pump, byId[pump.Truck].Yard, first, weeks, costs.UnusedVaneHour ?? (costs.PlannedRebuild / life.Value), life.Value));
            }
        }

        return risks.ToImmutable();
    }

    private static PumpRisk Risk(WearForecast pump, string yard, PlanWeek first, int weeks, double value, double usualLifeH)
    {
        var hoursPerWeek = DaysInWeek * (pump.HoursPerDay ?? 0);
        var byHours = pump.Chances.IsEmpty;
        var limit = ImmutableArray.CreateBuilder<double>(weeks);
        var fail = ImmutableArray.CreateBuilder<double>(weeks);
        for (var i = 0; i < weeks; i++)
        {
            var at = first.Plus(i).Start;
            var (l, f) = byHours ? ByHours(pump, at, hoursPerWeek, usualLifeH) : ByForecast(pump, at);
            limit.Add(l);
            fail.Add(f);
        }

        return new PumpRisk
        {
            Truck = pump.Truck,
            PumpSerial = pump.PumpSerial,
            PumpModel = pump.PumpModel,
            Yard = yard,
            LimitBy = limit.MoveToImmutable(),
            FailBy = fail.MoveToImmutable(),
            HoursPerWeek = hoursPerWeek,
            VaneHourValue = value,
            LimitAt = pump.DateOfLimit?.P50,
            Basis = byHours ? RiskBasis.HoursAlone : RiskBasis.WearForecast,
        };
    }

    private static (double Limit, double Fail) ByForecast(WearForecast pump, DateTimeOffset at)
    {
        var chances = pump.Chances;
        if (at <= chances[0].At)
        {
            return (chances[0].Probability, chances[0].Failure);
        }

        var next = 1;
        while (next < chances.Length && chances[next].At < at)
        {
            next++;
        }

        if (next == chances.Length)
        {
            return (chances[^1].Probability, chances[^1].Failure);
        }

        var (before, after) = (chances[next - 1], chances[next]);
        var share = (at - before.At) / (after.At - before.At);
        return (before.Probability + (share * (after.Probability - before.Probability)), before.Failure + (share * (after.Failure - before.Failure)));
    }

    // It runs: what failed by now would not be asked about. Failures are taken at the limit, as nothing is known of this pump's wear beyond it.
    private static (double Limit, double Fail) ByHours(WearForecast pump, DateTimeOffset at, double hoursPerWeek, double usualLifeH)
    {
        var now = Below(pump.HoursSinceFitting);
        var then = Below(pump.HoursSinceFitting + (hoursPerWeek * Math.Max(0, (at - pump.AsOf).TotalDays / DaysInWeek)));
        var chance = (then - now) / Math.Max(1e-9, 1 - now);
        return (chance, chance);

        double Below(double hours) => hours <= 0 ? 0 : Normal.CDF(0, 1, Math.Log(hours / usualLifeH) / LogLifeSd);
    }

    private static Dictionary<string, double?> UsualLives(IReadOnlyList<WearForecast> wear) => wear
        .GroupBy(w => w.PumpModel, StringComparer.Ordinal)
        .ToDictionary(g => g.Key, g => Median(g.Where(w => w.HoursToLimit?.P50 is not null).Select(w => w.HoursSinceFitting + w.HoursToLimit!.P50!.Value)), StringComparer.Ordinal);

    private static double? Median(IEnumerable<double> values)
    {
        double[] sorted = [.. values.Order()];
        return sorted.Length == 0 ? null : (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2;
    }
}
