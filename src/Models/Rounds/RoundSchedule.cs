using System.Globalization;

namespace Vanehour.Models.Rounds;

/// <summary>When one check is due by its own rhythm.</summary>
/// <param name="State">Done, DueSoon, Due or Overdue.</param>
/// <param name="DueDay">The local day; null where that is not known.</param>
/// <param name="DueBy">By what.</param>
/// <param name="HoursLeft">PTO hours left, h.</param>
/// <param name="Because">Why.</param>
internal sealed record RoundSchedule(RoundState State, DateOnly? DueDay, RoundDueBy DueBy, double? HoursLeft, string? Because)
{
    /// <summary>A daily check: due with each day of work, overdue when days of work went by without it.</summary>
    /// <param name="work">The truck's work.</param>
    /// <param name="from">The day it was last done, or the day before it was first expected.</param>
    /// <param name="options">The grace.</param>
    public static RoundSchedule Daily(TruckWork work, DateOnly from, RoundOptions options)
    {
        if (from >= work.Today)
        {
            return new RoundSchedule(RoundState.Done, work.NextUsual(work.Today.AddDays(1)), RoundDueBy.Calendar, null, null);
        }

        if (work.FirstWorkAfter(from) is not { } worked)
        {
            var next = work.NextUsual(work.Today);
            return new RoundSchedule(next == work.Today ? RoundState.Due : RoundState.Done, next, RoundDueBy.Calendar, null, null);
        }

        var missed = work.WorkDaysFrom(worked);
        return new RoundSchedule(
            missed > options.GraceWorkDays ? RoundState.Overdue : RoundState.Due,
            worked,
            RoundDueBy.Calendar,
            null,
            missed == 0 ? null : string.Create(CultureInfo.InvariantCulture, $"{missed} {(missed == 1 ? "day" : "days")} of work without it"));
    }

    /// <summary>A check with an interval: due by days or by PTO hours, whichever is first.</summary>
    /// <param name="work">The truck's work.</param>
    /// <param name="check">The check.</param>
    /// <param name="from">When it was last done, or first expected.</param>
    /// <param name="meterH">The meter then; null where it is not known.</param>
    /// <param name="options">The grace.</param>
    public static RoundSchedule Interval(TruckWork work, RoundCheck check, DateTimeOffset from, double? meterH, RoundOptions options)
    {
        var fromDay = LocalDay.Of(from, work.Zone);
        var byCalendar = check.Days is { } days ? fromDay.AddDays(days) : (DateOnly?)null;
        var sinceH = work.HoursSince(from, meterH);
        var leftH = check.Hours - sinceH;
        DateOnly? byHours = leftH is not { } left ? null
            : left <= 0 ? work.DayOfHours(from, check.Hours!.Value)
            : work.HoursPerDay is > 0 and var perDay && left / perDay < MostDaysAhead ? LocalDay.Of(work.Now.AddDays(left / perDay), work.Zone)
            : null;

        // A truck that is back after a rest is given its days of work first, however long ago the calendar ran out.
        var lateByCalendar = byCalendar is { } day
            && work.Today > day.AddDays((int)Math.Ceiling(options.GraceShare * check.Days!.Value))
            && work.WorkDaysFrom(day) > options.GraceWorkDays;
        var lateByHours = -leftH > options.GraceShare * check.Hours;
        var isDue = byCalendar <= work.Today || leftH <= 0;
        var isSoon = byCalendar is { } soon && soon.DayNumber - work.Today.DayNumber <= Math.Max(1, options.SoonShare * check.Days!.Value);
        isSoon = (isSoon && options.SoonShare > 0) || leftH <= options.SoonShare * check.Hours;
        var hoursFirst = byHours is not null && (byCalendar is null || byHours < byCalendar);
        var state = lateByCalendar || lateByHours ? RoundState.Overdue : isDue ? RoundState.Due : isSoon ? RoundState.DueSoon : RoundState.Done;
        return new RoundSchedule(state, hoursFirst ? byHours : byCalendar, hoursFirst ? RoundDueBy.Hours : RoundDueBy.Calendar, leftH, state == RoundState.Done ? null : Why());

        string Why() => hoursFirst
            ? string.Create(CultureInfo.InvariantCulture, $"{sinceH:0} PTO h since it was done, every {check.Hours:0}")
            : string.Create(CultureInfo.InvariantCulture, $"{Days(work.Today.DayNumber - fromDay.DayNumber)} since it was done, every {check.Days}");
    }

    private const double MostDaysAhead = 3660;

    private static string Days(int count) => string.Create(CultureInfo.InvariantCulture, $"{count} {(count == 1 ? "day" : "days")}");
}
