using System.Diagnostics;
using System.Globalization;
using MathNet.Numerics.Distributions;
using Vanehour.Fleet;
using Vanehour.Fleet.Units;
using Vanehour.Models;
using Vanehour.Models.Planning;
using Vanehour.Models.VaneWear;

namespace Vanehour.Bench;

/// <summary>How long a plan of many pumps takes, with slots for all, for about as many as are due, and for far fewer.</summary>
internal static class PlanSpeed
{
    private const int Yards = 4;

    public static void Run(int pumps, int weeks, TextWriter output)
    {
        var now = new DateTimeOffset(2026, 6, 1, 6, 0, 0, TimeSpan.Zero);
        foreach (var slots in new[] { pumps / Yards, Math.Max(1, pumps / (Yards * weeks)), Math.Max(1, pumps / (3 * Yards * weeks)) })
        {
            var random = new Random(1);
            var trucks = Enumerable.Range(1, pumps).Select(i => new Truck
            {
                Id = $"T{i:D4}",
                Yard = $"Yard {i % Yards}",
                PumpModel = $"Model {i % 6}",
                PumpSerial = $"P{i}",
                PumpFitted = now.AddDays(-400),
                MeterAtFittingH = 0,
                TankVolume = Volume.FromLitres(9000),
                TimeZone = "UTC",
            }).ToList();
            var wear = trucks.Select(t => Forecast(t, now, 1 + (random.NextDouble() * weeks * 1.3), 0.1 + (random.NextDouble() * 0.3))).ToList();
            var options = new PlanOptions { HorizonWeeks = weeks, SlotsPerWeek = slots, UsualParts = new PartsSupply { InStock = Math.Max(2, pumps / 20), LeadWeeks = 3 } };
            var input = new PlanInput
            {
                AsOf = now,
                MadeAt = now,
                Wear = wear,
                Findings = [],
                Trucks = trucks,
                Marks = [],
                FittedAt = trucks.ToDictionary(t => t.Id, t => t.PumpFitted),
            };
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

    private static WearForecast Forecast(Truck truck, DateTimeOffset now, double limitWeeks, double spread)
    {
        return new WearForecast
        {
            Truck = truck.Id,
            PumpSerial = truck.PumpSerial,
            PumpModel = truck.PumpModel,
            AsOf = now,
            HoursSinceFitting = 800,
            HoursToLimit = new HourQuantiles(null, 20 * limitWeeks, null),
            DateOfLimit = new DateQuantiles(null, now.AddDays(7 * limitWeeks), null),
            HoursPerDay = 20 / 7.0,
            Chances = [.. Enumerable.Range(0, 105).Select(w => new LimitChance(now.AddDays(7 * w), By(w, limitWeeks), By(w, 1.15 * limitWeeks)))],
            Observations = 50,
            Status = ForecastStatus.Forecast,
            FlowKeptLimit = 0.7,
            Checks = [],
            Fan = [],
            Remarks = [],
        };

        double By(double weeks, double median) => weeks == 0 ? 0 : Normal.CDF(0, 1, Math.Log(weeks / median) / spread);
    }
}
