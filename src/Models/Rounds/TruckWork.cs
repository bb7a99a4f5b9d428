using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Fleet.Lives;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Analysis;
using Vanehour.Models.Findings;
using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Rounds;

/// <summary>When a truck works: its days, its hours, and whether it is at work at all.</summary>
internal sealed class TruckWork
{
    private const int PatternDays = 56;
    private const int PatternWeeks = PatternDays / 7;

    // A weekday on which the truck works one time in three is one of its days.
    private const double UsualShare = 1 / 3.0;

    // A record's meter and the runs may differ by the hours of the day that a date alone leaves open.
    private const double MeterToleranceH = 24;

    private readonly IReadOnlyList<Run> runs;
    private readonly IReadOnlyList<ServiceRecord> records;
    private readonly LifeClock clock;
    private readonly List<DateOnly> days;
    private readonly bool[] usual;

    public TruckWork(Truck truck, IReadOnlyList<ServiceRecord> records, IReadOnlyList<Run> runs, DateTimeOffset now)
    {
        this.runs = runs;
        this.records = records;
        Now = now;
        Zone = YardTime.ZoneOf(truck);
        Today = LocalDay.Of(now, Zone);
        days = [.. runs.SelectMany(r => new[] { LocalDay.Of(r.Start, Zone), LocalDay.Of(r.End, Zone) }).Distinct().Order()];
        usual = Usual(days, Today);

        // One clock for the truck, over all its pumps: a gearbox outlives them.
        var since = new Life { Truck = truck.Id, PumpSerial = truck.PumpSerial, PumpModel = truck.PumpModel, FittedAt = truck.PumpFitted, MeterAtFittingH = truck.MeterAtFittingH };
        clock = LifeClock.Build(since, [.. runs.Where(r => r.Start >= truck.PumpFitted)], records);
        MeterH = Meter(runs, records);
        HoursPerDay = Usage.Read(runs, now, PatternWeeks, UsageSeason.None).HoursPerDay;
        var pump = LifeHistory.Build(truck, records).LastOrDefault(l => l.EndedAt is null);
        PumpSerial = pump?.PumpSerial;
        Resting = Rest(truck, pump);
    }

    public DateTimeOffset Now { get; }

    public TimeZoneInfo Zone { get; }

    public DateOnly Today { get; }

    public double? MeterH { get; }

    public double? HoursPerDay { get; }

    public string? PumpSerial { get; }

    /// <summary>Why it is not at work; null while it is.</summary>
    public string? Resting { get; }

    /// <summary>The first day it was heard at work; null where it never was.</summary>
    public DateTimeOffset? FirstHeard => runs.Count == 0 ? null : runs[0].Start;

    /// <summary>The first day of work after a day; null where there is none yet.</summary>
    public DateOnly? FirstWorkAfter(DateOnly day) => days.Where(d => d > day).Select(d => (DateOnly?)d).FirstOrDefault();

    /// <summary>Days of work from one day on, before today.</summary>
    public int WorkDaysFrom(DateOnly day) => days.Count(d => d >= day && d < Today);

    /// <summary>The next day on which it usually works, from one day on; null where it has no usual days.</summary>
    public DateOnly? NextUsual(DateOnly from) => Enumerable.Range(0, 7).Select(i => from.AddDays(i)).Where(d => usual[(int)d.DayOfWeek]).Select(d => (DateOnly?)d).FirstOrDefault();

    /// <summary>PTO hours since a check was done, h.</summary>
    public double HoursSince(DateTimeOffset at, double? meterH)
    {
        var byClock = clock.HoursAt(Now) - clock.HoursAt(at);
        var replaced = records.Any(r => r.Kind == ServiceKind.MeterReplaced && r.At >= at);
        return meterH is { } then && MeterH is { } reading && !replaced && reading >= then && Math.Abs(reading - then - byClock) <= MeterToleranceH ? reading - then : byClock;
    }

    /// <summary>The day on which so many hours were over; today where the runs do not show it.</summary>
    public DateOnly DayOfHours(DateTimeOffset at, double hoursH)
    {
        var from = clock.HoursAt(at);
        var run = runs.FirstOrDefault(r => r.End > at && clock.HoursAt(r.End) - from >= hoursH);
        return run is null ? Today : LocalDay.Of(run.End, Zone);
    }

    private static bool[] Usual(List<DateOnly> days, DateOnly today)
    {
        var late = days.Where(d => d > today.AddDays(-PatternDays) && d < today).ToList();
        var weeks = late.Count == 0 ? 0 : (today.DayNumber - late[0].DayNumber) / 7;
        return weeks < 2
            ? [false, true, true, true, true, true, false]
            : [.. Enumerable.Range(0, 7).Select(w => late.Count(d => (int)d.DayOfWeek == w) >= weeks * UsualShare)];
    }

    private static double? Meter(IReadOnlyList<Run> runs, IReadOnlyList<ServiceRecord> records)
    {
        var last = runs.LastOrDefault(r => r.MeterEndH is not null);
        var swap = records.LastOrDefault(r => r.Kind == ServiceKind.MeterReplaced && r.Value is not null);
        return swap is not null && !(last?.End > swap.At) ? LifeClock.ValueH(swap) : last?.MeterEndH;
    }

    private string? Rest(Truck truck, Life? pump)
    {
        if (!truck.InService)
        {
            return "out of service";
        }

        if (pump is null)
        {
            return "no pump on the truck";
        }

        if (runs.Count == 0)
        {
            return "not heard at work yet";
        }

        var heard = runs[^1].End;
        var toShop = FeedRule.ToShop(records);
        if (toShop is not null && toShop.At >= heard && Now - toShop.At < FeedRule.InShop && LocalDay.Of(toShop.At, Zone) < Today)
        {
            return string.Create(CultureInfo.InvariantCulture, $"in the shop since {LocalDay.Of(toShop.At, Zone):yyyy-MM-dd}");
        }

        return Now - heard > FeedRule.UsualPause(runs, Now)
            ? string.Create(CultureInfo.InvariantCulture, $"not at work since {LocalDay.Of(heard, Zone):yyyy-MM-dd}")
            : null;
    }
}
