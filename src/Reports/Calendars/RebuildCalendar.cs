using System.Globalization;
using Vanehour.Models.Planning;
using Vanehour.Reports.Planning;

namespace Vanehour.Reports.Calendars;

/// <summary>
/// The plan as an iCalendar file (RFC 5545): an event of five days a job, Monday to Friday. The job of a pump's life keeps its UID wherever it is moved to, and a later plan has a
/// higher SEQUENCE, so that importing again moves events and makes no second ones; a job that is off the plan is sent as cancelled.
/// </summary>
public static class RebuildCalendar
{
    private const int WorkDays = 5;

    /// <summary>Writes the file.</summary>
    /// <param name="plan">The plan.</param>
    public static string Of(RebuildPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        var calendar = CalendarText.New("Rebuild plan");
        foreach (var job in plan.Jobs)
        {
            calendar.Events.Add(CalendarText.Event(
                UidOf(job.Truck, job.PumpSerial), plan.MadeAt, job.Week.Monday, WorkDays, $"{(job.Swap ? "Swap pump" : "Rebuild pump")}, {job.Truck}", Words(job), job.Yard, isOff: false));
        }

        // Also of a pump that is no longer on the truck, whose event nothing else would take off.
        foreach (var move in plan.Moves.Where(m => m is { From: not null, WasPump: not null } && plan.JobOf(m.Truck)?.PumpSerial != m.WasPump))
        {
            calendar.Events.Add(CalendarText.Event(
                UidOf(move.Truck, move.WasPump!), plan.MadeAt, move.From!.Value.Monday, WorkDays, $"Rebuild pump, {move.Truck}", move.Why, move.WasYard ?? string.Empty, isOff: true));
        }

        return CalendarText.Write(calendar);
    }

    /// <summary>The identity of a pump's job, the same in every plan. A dash of the truck's name is written as its code: the first one after it begins the serial.</summary>
    public static string UidOf(string truck, string pumpSerial) =>
        $"rebuild-{CalendarText.Plain(truck).Replace("-", "~002D", StringComparison.Ordinal)}-{CalendarText.Plain(pumpSerial)}@vanehour";

    private static string Words(PlannedJob job) => string.Create(
        CultureInfo.InvariantCulture, $"{PlanWords.Of(job)} Expected cost {job.ExpectedCost:0}. {CalendarText.BeforeWork}");
}
