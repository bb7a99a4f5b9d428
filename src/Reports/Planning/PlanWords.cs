using System.Globalization;
using Vanehour.Models.Planning;

namespace Vanehour.Reports.Planning;

/// <summary>The sentences of a plan, the same on the screen and in pictures.</summary>
public static class PlanWords
{
    /// <summary>Where a job has moved, and why.</summary>
    public static string Of(PlanMove move)
    {
        ArgumentNullException.ThrowIfNull(move);
        return (move.From, move.To) switch
        {
            (null, { } to) => $"New: {move.Truck} in {to}. {move.Why}",
            ({ } from, { } to) when from == to => $"Another pump: {move.Truck} in {to}. {move.Why}",
            ({ } from, null) => $"Off the plan: {move.Truck}, was in {from}. {move.Why}",
            _ => $"Moved: {move.Truck} from {move.From} to {move.To}. {move.Why}",
        };
    }

    /// <summary>What one more slot would save.</summary>
    public static string Of(SlotPrice price)
    {
        ArgumentNullException.ThrowIfNull(price);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"One more slot in {price.Yard} in {price.Week} would save {price.Saves:0}; {(price.Waiting == 1 ? "1 job there waits" : $"{price.Waiting} jobs there wait")} for one.");
    }

    /// <summary>What to order, and by when.</summary>
    /// <param name="order">The order.</param>
    /// <param name="first">The first week of the plan.</param>
    public static string Of(KitOrder order, PlanWeek first)
    {
        ArgumentNullException.ThrowIfNull(order);
        return $"Order {(order.Count == 1 ? "1 kit" : $"{order.Count} kits")} for {order.PumpModel} {(order.OrderBy <= first ? "now" : $"by {order.OrderBy}")}, needed in {order.For}.";
    }

    /// <summary>What a job is.</summary>
    public static string Of(PlannedJob job)
    {
        ArgumentNullException.ThrowIfNull(job);
        return $"{job.Truck}, {job.Yard}: {(job.Swap ? "put on a spare" : "rebuild")} {job.PumpModel} {job.PumpSerial}. {job.Reason}";
    }

    /// <summary>What comes before any plan.</summary>
    public static string Of(StopFirst stop)
    {
        ArgumentNullException.ThrowIfNull(stop);
        return $"{stop.Truck}: {string.Join(", ", stop.Kinds)}{(stop.Check is { } check ? $". {check}" : string.Empty)}";
    }

    /// <summary>What comes before any plan, with the caution that goes with its check.</summary>
    public static string WithCaution(StopFirst stop)
    {
        ArgumentNullException.ThrowIfNull(stop);
        return stop.Caution is { } caution ? $"{Of(stop)} CAUTION: {caution}" : Of(stop);
    }

    /// <summary>The pumps that are due and find no room; null where there are none.</summary>
    public static string? NoRoom(RebuildPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        var due = plan.Later.Where(l => l.IsDue).Select(l => l.Truck).ToList();
        return due.Count == 0 ? null : $"Due, and no room before {plan.FirstWeek.Plus(plan.HorizonWeeks)}: {string.Join(", ", due)}.";
    }

    /// <summary>What costs are, and whether they are still examples.</summary>
    public static string Costs(bool areExamples) =>
        "Expected cost: the rebuild, the chance of a failure before it times what that costs more, and vane hours thrown away."
        + (areExamples ? " All costs are invented examples: set your own in the settings section Plan (Costs)." : string.Empty);
}
