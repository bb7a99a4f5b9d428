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
                UidOf(job.Truck, job.PumpSerial, job.FittedOn), plan.MadeAt, job.Week.Monday, WorkDays, $"{(job.Swap ? "Swap pump" : "Rebuild pump")}, {job.Truck}", Words(job), job.Yard, isOff: false));
        }

        // Also of a life that is over, whose event nothing else would take off; one in the past may have been done, and stays.
        foreach (var move in plan.Moves.Where(m => m is { From: not null, WasPump: not null } && m.From >= plan.FirstWeek && !IsOf(plan.JobOf(m.Truck), m)))
        {
            calendar.Events.Add(CalendarText.Event(
                UidOf(move.Truck, move.WasPump!, move.WasFittedOn), plan.MadeAt, move.From!.Value.Monday, WorkDays, $"Rebuild pump, {move.Truck}", move.Why, move.WasYard ?? string.Empty, isOff: true));
        }

        return CalendarText.Write(calendar);
    }

    /// <summary>The identity of the job of a pump's life, the same in every plan. A dash of the truck's name is written as its code: the first one after it begins the serial.</summary>
    /// <param name="truck">The truck.</param>
    /// <param name="pumpSerial">The pump.</param>
    /// <param name="fittedOn">When its life began: a rebuilt pump keeps its serial, and its next rebuild is another job.</param>
    public static string UidOf(string truck, string pumpSerial, DateOnly? fittedOn) => string.Create(
        CultureInfo.InvariantCulture, $"rebuild-{CalendarText.Plain(truck).Replace("-", "~002D", StringComparison.Ordinal)}-{CalendarText.Plain(pumpSerial)}-{fittedOn:yyyyMMdd}@vanehour");

    private static bool IsOf(PlannedJob? job, PlanMove move) => job is not null && job.PumpSerial == move.WasPump && job.FittedOn == move.WasFittedOn;

    private static string Words(PlannedJob job) => string.Create(
        CultureInfo.InvariantCulture, $"{PlanWords.Of(job)} Expected cost {job.ExpectedCost:0}. {CalendarText.BeforeWork}");
}
