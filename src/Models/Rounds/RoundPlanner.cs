using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Findings;

namespace Vanehour.Models.Rounds;

/// <summary>Says of each recurring check of a truck when it is due: a pure function of register, runs and findings.</summary>
/// <remarks>
/// A check is done by the latest of: a round mark that names its round or itself, a service record of the very work, what the data shows. It is due by days or by PTO hours,
/// whichever is first, in days of the truck's own zone; daily checks come with days of work. An open finding asks for some checks at once. A truck that is not at work owes
/// nothing. Where nobody has marked a round before, nothing is said of when it is due, unless the options expect it.
/// </remarks>
/// <param name="table">The checks.</param>
/// <param name="options">How they are counted.</param>
public sealed class RoundPlanner(RoundTable table, RoundOptions options)
{
    /// <summary>The rounds of one truck.</summary>
    /// <param name="truck">The truck.</param>
    /// <param name="records">Its service records, in order of time; those after <paramref name="now"/> and of other trucks are passed over.</param>
    /// <param name="runs">Its runs, in order of time; those that end after <paramref name="now"/> are passed over.</param>
    /// <param name="findings">Findings; those of other trucks and closed ones are passed over.</param>
    /// <param name="now">The instant it is true for.</param>
    public TruckRounds Plan(Truck truck, IEnumerable<ServiceRecord> records, IEnumerable<Run> runs, IEnumerable<Finding> findings, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(truck);
        ArgumentNullException.ThrowIfNull(records);
        ArgumentNullException.ThrowIfNull(runs);
        ArgumentNullException.ThrowIfNull(findings);
        IReadOnlyList<Run> past = [.. runs.Where(r => r.End <= now)];
        var history = new RoundHistory(truck.Id, records.Where(r => r.At <= now), past);
        var work = new TruckWork(truck, history.Records, past, now);
        var open = findings.Where(f => f.Truck == truck.Id && f.Status != FindingStatus.Closed).OrderBy(f => f.Urgency).ThenBy(f => f.Since).ToList();
        return new TruckRounds
        {
            Truck = truck,
            AsOf = now,
            Items = [.. table.For(truck, options).Select(c => Item(truck, c, history, work, open))],
            MeterH = work.MeterH,
            PumpSerial = work.PumpSerial,
            Resting = work.Resting,
        };
    }

    /// <summary>Whether anything of a truck's rounds is kept by its crew or expected, so that something could be overdue.</summary>
    public bool IsAnyKept(Truck truck, IEnumerable<ServiceRecord> records)
    {
        ArgumentNullException.ThrowIfNull(truck);
        ArgumentNullException.ThrowIfNull(records);
        var history = new RoundHistory(truck.Id, records, []);
        return table.For(truck, options).Any(c => IsKept(c, history));
    }

    private bool IsKept(RoundCheck check, RoundHistory history) => options.Expect == true || history.Keeps(check);

    private RoundItem Item(Truck truck, RoundCheck check, RoundHistory history, TruckWork work, List<Finding> open)
    {
        var done = history.LastDone(check);
        var item = new RoundItem
        {
            Truck = truck.Id,
            Check = check,
            IfFitted = check.IsOn(truck) is null,
            State = RoundState.NotKept,
            IsOverdue = false,
            LastDone = done,
            DoneDay = done is null ? null : LocalDay.Of(done.At, work.Zone),
            DaysSince = done is null ? null : work.Today.DayNumber - LocalDay.Of(done.At, work.Zone).DayNumber,
        };
        if (IsKept(check, history) && Schedule(check, done, work) is { } schedule)
        {
            item = OnSchedule(item, schedule, work);
        }
        else if (check.Round == RoundKind.Daily && item.DaysSince == 0)
        {
            item = item with { State = RoundState.Done };
        }

        return open.Find(f => check.PulledBy.Contains(f.Kind) && !IsSince(done, f.Since, work.Zone)) is { } finding
            ? item with
            {
                State = RoundState.PulledForward,
                DueAt = LocalDay.Start(work.Today, work.Zone),
                DueDay = work.Today,
                DueBy = RoundDueBy.Finding,
                Because = string.Create(CultureInfo.InvariantCulture, $"{finding.Kind} since {LocalDay.Of(finding.Since, work.Zone):yyyy-MM-dd} (finding {finding.Id})"),
                Finding = finding,
            }
            : item;
    }

    private RoundSchedule? Schedule(RoundCheck check, RoundDone? done, TruckWork work)
    {
        // Never done: counted from the day the truck was first heard.
        if ((done?.At ?? work.FirstHeard) is not { } from)
        {
            return work.Resting is null ? null : new RoundSchedule(RoundState.Due, null, RoundDueBy.Calendar, null, null);
        }

        if (check.Round != RoundKind.Daily)
        {
            return RoundSchedule.Interval(work, check, from, done?.MeterH, options);
        }

        var day = LocalDay.Of(from, work.Zone);
        return RoundSchedule.Daily(work, done is null ? day.AddDays(-1) : day, options);
    }

    private static RoundItem OnSchedule(RoundItem item, RoundSchedule schedule, TruckWork work)
    {
        var rests = work.Resting is not null && schedule.State != RoundState.Done;
        return item with
        {
            State = rests ? RoundState.Resting : schedule.State,
            IsOverdue = !rests && schedule.State == RoundState.Overdue,
            DueAt = schedule.DueDay is { } day ? LocalDay.Start(day, work.Zone) : null,
            DueDay = schedule.DueDay,
            DaysSince = item.DaysSince ?? (work.FirstHeard is { } heard ? work.Today.DayNumber - LocalDay.Of(heard, work.Zone).DayNumber : null),
            DueBy = schedule.DueDay is null ? null : schedule.DueBy,
            HoursLeft = schedule.HoursLeft,
            DueAtMeterH = work.MeterH + schedule.HoursLeft,
            Because = rests ? work.Resting : item.LastDone is null && schedule.State != RoundState.Done ? "not marked since the truck was first heard" : schedule.Because,
        };
    }

    // A record with a date alone counts for a finding of the same day.
    private static bool IsSince(RoundDone? done, DateTimeOffset since, TimeZoneInfo zone) =>
        done is not null && (done.At >= since || (LocalDay.IsStart(done.At, zone) && LocalDay.Of(done.At, zone) == LocalDay.Of(since, zone)));
}
