using System.Diagnostics;
using System.Globalization;
using Vanehour.Models.Planning;
using Vanehour.Models.Tests.Planning;

namespace Vanehour.Bench;

/// <summary>How long a plan of many pumps takes, with slots for all, for about as many as are due, and for far fewer.</summary>
internal static class PlanSpeed
{
    private const int Yards = 4;

    public static void Run(int pumps, int weeks, TextWriter output)
    {
        foreach (var slots in new[] { pumps / Yards, Math.Max(1, pumps / (Yards * weeks)), Math.Max(1, pumps / (3 * Yards * weeks)) })
        {
            var random = new Random(1);
            var fleet = new PlanFleet();
            for (var i = 1; i <= pumps; i++)
            {
                fleet.With($"T{i:D4}", 1 + (random.NextDouble() * weeks * 1.3), 0.1 + (random.NextDouble() * 0.3), $"Yard {i % Yards}", $"Model {i % 6}");
            }

            var options = new PlanOptions { HorizonWeeks = weeks, SlotsPerWeek = slots, UsualParts = new PartsSupply { InStock = Math.Max(2, pumps / 20), LeadWeeks = 3 } };
            var input = fleet.Input();
            var planner = new Planner(options);
            var watch = Stopwatch.StartNew();
            var plan = planner.Make(input);
            var first = watch.Elapsed.TotalSeconds;
            watch.Restart();
            var again = planner.Make(input with { Previous = plan });
            output.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"{pumps} pumps, {weeks} weeks, {slots} slots a week in each of {Yards} yards: {first:F1} s, again {watch.Elapsed.TotalSeconds:F1} s; {plan.Jobs.Length} jobs, gap {plan.Gap:E1}, moved {again.Moves.Length}, {plan.Prices.Length} prices"));
        }
    }
}
