using System.Globalization;
using Ical.Net;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Serialization;
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
    private static readonly DateTimeOffset SequenceFrom = new(2020, 1, 1, 0, 0, 0, TimeSpan.Zero);

    /// <summary>Writes the file.</summary>
    /// <param name="plan">The plan.</param>
    public static string Of(RebuildPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        var calendar = new Ical.Net.Calendar { ProductId = "-//Vanehour//Rebuild plan//EN", Method = "PUBLISH" };
        foreach (var job in plan.Jobs)
        {
            calendar.Events.Add(Event(plan, job.Truck, job.PumpSerial, job.Week, $"{(job.Swap ? "Swap pump" : "Rebuild pump")}, {job.Truck}", Words(job), job.Yard, EventStatus.Confirmed));
        }

        foreach (var move in plan.Moves.Where(m => m is { From: not null, To: null }))
        {
            if (plan.Later.FirstOrDefault(l => l.Truck == move.Truck) is { } later)
            {
                calendar.Events.Add(Event(plan, move.Truck, later.PumpSerial, move.From!.Value, $"Rebuild pump, {move.Truck}", move.Why, later.Yard, EventStatus.Cancelled));
            }
        }

        return new CalendarSerializer().SerializeToString(calendar) ?? throw new InvalidOperationException("The calendar could not be written.");
    }

    /// <summary>The identity of a pump's job, the same in every plan.</summary>
    public static string UidOf(string truck, string pumpSerial) => $"rebuild-{Plain(truck)}-{Plain(pumpSerial)}@vanehour";

    private static CalendarEvent Event(RebuildPlan plan, string truck, string serial, PlanWeek week, string summary, string description, string yard, string status)
    {
        var monday = week.Monday;
        var friday = monday.AddDays(WorkDays);
        return new CalendarEvent
        {
            Uid = UidOf(truck, serial),
            DtStamp = new CalDateTime(plan.MadeAt.UtcDateTime, "UTC"),
            Sequence = (int)(plan.MadeAt - SequenceFrom).TotalMinutes,
            Start = new CalDateTime(monday.Year, monday.Month, monday.Day),
            End = new CalDateTime(friday.Year, friday.Month, friday.Day),
            Summary = summary,
            Description = description,
            Location = yard,
            Status = status,
            Transparency = TransparencyType.Transparent,
        };
    }

    private static string Words(PlannedJob job) => string.Create(
        CultureInfo.InvariantCulture,
        $"{PlanWords.Of(job)} Expected cost {job.ExpectedCost:0}. PTO off, key out and locked out; vacuum and pressure bled to zero and the gauge read. The pump maker's manual comes first. Vanehour advises; it never controls.");

    // Anything but letters, digits, dots, dashes and underscores is written as its code, so that no two names fall together.
    private static string Plain(string name) => string.Concat(name.Select(c => char.IsAsciiLetterOrDigit(c) || c is '.' or '-' or '_' ? c.ToString() : string.Create(CultureInfo.InvariantCulture, $"~{(int)c:X4}")));
}
