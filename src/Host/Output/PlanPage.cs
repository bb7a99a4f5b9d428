using System.Globalization;
using Vanehour.Models.Planning;
using Vanehour.Reports.Planning;

namespace Vanehour.Host.Output;

/// <summary>What is said around the table of a plan, and the explanation of one truck.</summary>
internal static class PlanPage
{
    private const int MovesShown = 12;

    /// <summary>The columns of the jobs.</summary>
    public static readonly Column<PlannedJob>[] Columns =
    [
        new("week", "Week", j => j.Week.ToString()),
        new("monday", "Monday", j => j.Week.Start, "yyyy-MM-dd", Rank: 5),
        new("truck", "Truck", j => j.Truck),
        new("yard", "Yard", j => j.Yard, Rank: 1),
        new("pump_model", "Pump model", j => j.PumpModel, Rank: 4),
        new("pump_serial", "Pump serial", j => j.PumpSerial, Rank: 6),
        new("expected_cost", "Expected cost", j => j.ExpectedCost, "0"),
        new("chance_before", "At limit before", j => j.ChanceBefore, "0 %"),
        new("chance_of_failure", "Failed before", j => j.ChanceOfFailure, "0 %", Rank: 2),
        new("week_earlier", "A week earlier", j => j.WeekEarlier, "+0;-0;0", Rank: 3),
        new("week_later", "A week later", j => j.WeekLater, "+0;-0;0", Rank: 3),
        new("swap", "By swap", j => j.Swap, Rank: 5),
        new("pinned", "Pinned", j => j.Pinned, Rank: 4),
        new("reason", "Why", j => j.Reason, Rank: 1),
    ];

    public static void Before(TextWriter output, RebuildPlan plan)
    {
        if (plan.Stop.IsEmpty)
        {
            return;
        }

        output.WriteLine("Stop first, before any plan:");
        WriteStops(output, plan.Stop);
        output.WriteLine();
    }

    public static void WriteStops(TextWriter output, IEnumerable<StopFirst> stops)
    {
        foreach (var stop in stops)
        {
            output.WriteLine("  " + PlanWords.Of(stop));
            if (stop.Caution is { } caution)
            {
                output.WriteLine($"     CAUTION: {caution}");
            }
        }
    }

    public static void After(TextWriter output, RebuildPlan plan)
    {
        var due = plan.Later.Count(l => l.IsDue);
        if (PlanWords.NoRoom(plan) is { } noRoom)
        {
            output.WriteLine(noRoom);
        }

        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{Count.Of(plan.Jobs.Length, "rebuild")} in {Count.Of(plan.HorizonWeeks, "week")} from {plan.FirstWeek}, expected cost {plan.Cost:0}{(plan.Gap > 1e-6 ? $" (at most {plan.Gap:0.0 %} above the least possible)" : string.Empty)}; {Count.Of(plan.Later.Length - due, "pump")} later."));
        WriteMoves(output, plan.Moves);
        foreach (var price in plan.Prices)
        {
            output.WriteLine(PlanWords.Of(price));
        }

        foreach (var order in plan.Orders.Take(MovesShown))
        {
            output.WriteLine(PlanWords.Of(order, plan.FirstWeek));
        }

        foreach (var remark in plan.Remarks)
        {
            output.WriteLine(remark);
        }

        output.WriteLine(PlanWords.Costs(plan.CostsAreExamples));
    }

    public static void WriteMoves(TextWriter output, IReadOnlyList<PlanMove> moves)
    {
        foreach (var move in moves.Take(MovesShown))
        {
            output.WriteLine(PlanWords.Of(move));
        }

        if (moves.Count > MovesShown)
        {
            output.WriteLine($"... and {moves.Count - MovesShown} more have moved.");
        }
    }

    public static void Explain(TextWriter output, PlanExplanation why)
    {
        var risk = why.Risk;
        var limit = risk.LimitAt is { } at ? string.Create(CultureInfo.InvariantCulture, $"limit expected about {at:yyyy-MM-dd}") : "limit beyond the forecast";
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{why.Truck}, pump {risk.PumpSerial} ({risk.PumpModel}), {risk.Yard}: {limit}, {risk.HoursPerWeek:0.#} PTO h a week, a vane hour is worth {risk.VaneHourValue:0.00}."));
        if (risk.Basis == RiskBasis.HoursAlone)
        {
            output.WriteLine("There is no wear forecast for it: chances are by its hours alone, against what pumps of its model usually do.");
        }

        output.WriteLine(why.Job is { } job ? $"Planned for {job.Week}. {job.Reason}" : "Not within the weeks that are planned: later costs less.");
        Listing.WriteTable(output, why.Weeks, WeekColumns(why), "No week to show.");
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"After the last week at best: {why.CostLater:0}."));
    }

    /// <summary>The columns of an explanation.</summary>
    public static IReadOnlyList<Column<WeekOption>> WeekColumns(PlanExplanation why)
    {
        var (least, most) = (why.Weeks.Min(w => w.Cost), why.Weeks.Max(w => w.Cost));
        return
        [
            new("week", "Week", w => w.Week.ToString()),
            new("chance_before", "At limit before", w => w.ChanceBefore, "0 %"),
            new("chance_of_failure", "Failed before", w => w.ChanceOfFailure, "0 %"),
            new("cost", "Cost", w => w.Cost, "0"),
            new("more", why.Job is null ? "More than later" : "More than planned", w => w.More, "+0;-0;0"),
            new("curve", "Cost, as a bar", w => Bar(w.Cost, least, most) + (w.Week == why.Job?.Week ? " <- planned" : string.Empty)),
            new("why_not", "Against it", w => w.WhyNot),
        ];
    }

    private static string Bar(double cost, double least, double most)
    {
        const int Width = 24;
        return new string('#', 1 + (int)Math.Round(most > least ? (Width - 1) * (cost - least) / (most - least) : 0));
    }
}
