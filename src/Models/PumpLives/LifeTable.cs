using System.Collections.Immutable;
using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Fleet.Lives;
using Vanehour.Models.Analysis;

namespace Vanehour.Models.PumpLives;

/// <summary>The pump lives of a fleet, read from its service records.</summary>
/// <param name="Lives">Lives that can be used, in order of truck, then of fitting.</param>
/// <param name="Problems">What was left out.</param>
public sealed record LifeTable(ImmutableArray<PumpLife> Lives, ImmutableArray<LifeProblem> Problems)
{
    // A fitting is written down to the day, so that some hours before the first record are no late entry; of our own.
    private const double EntryToleranceH = 10;

    // What a meter reading taken by hand may be off by; of our own.
    private const double MeterToleranceH = 1;
    private static readonly TimeSpan MeasuredBefore = TimeSpan.FromDays(30);
    private static readonly TimeSpan Day = TimeSpan.FromDays(1);

    /// <summary>Reads the lives.</summary>
    /// <param name="data">The fleet as of an instant.</param>
    public static LifeTable Build(FleetData data)
    {
        ArgumentNullException.ThrowIfNull(data);
        var lives = ImmutableArray.CreateBuilder<PumpLife>();
        var problems = ImmutableArray.CreateBuilder<LifeProblem>();
        var overlapping = Overlaps(data);
        foreach (var truck in data.Pumps.GroupBy(p => p.Truck.Id, StringComparer.Ordinal))
        {
            var first = true;
            foreach (var pump in truck.OrderBy(p => p.Life.FittedAt))
            {
                if (overlapping.GetValueOrDefault(pump) is { } overlap)
                {
                    problems.Add(Problem(pump, pump.Life.FittedAt, overlap));
                }
                else
                {
                    Read(pump, first, data.AsOf, lives, problems);
                }

                first = false;
            }

            problems.AddRange(Strays(truck.First().Truck, [.. truck]));
        }

        return new LifeTable(lives.ToImmutable(), problems.ToImmutable());
    }

    private static void Read(PumpHistory pump, bool isFirst, DateTimeOffset asOf, ImmutableArray<PumpLife>.Builder lives, ImmutableArray<LifeProblem>.Builder problems)
    {
        var life = pump.Life;
        var readings = Readings(pump);
        for (var i = 1; i < readings.Count; i++)
        {
            if (readings[i].HoursH < readings[i - 1].HoursH - MeterToleranceH)
            {
                problems.Add(Problem(pump, readings[i].At, string.Create(
                    CultureInfo.InvariantCulture,
                    $"the meter reads {readings[i - 1].HoursH - readings[i].HoursH:F1} h less than in an earlier record, and no replaced meter is recorded")));
                return;
            }
        }

        var until = life.EndedAt ?? asOf;
        var hours = life.EndedAt is null ? Math.Max(pump.Clock.TotalH, readings[^1].HoursH) : readings[^1].HoursH;
        var calendarH = (until - life.FittedAt + Day).TotalHours;
        if (hours > calendarH)
        {
            problems.Add(Problem(pump, until, string.Create(CultureInfo.InvariantCulture, $"{hours:F0} PTO hours do not fit into the {calendarH:F0} h since it was fitted")));
            return;
        }

        var entry = isFirst ? Entry(pump, readings) : 0;
        if (hours <= entry)
        {
            // A pump that has not run yet tells nothing; one that ended without a run is a contradiction.
            if (life.EndedAt is not null)
            {
                problems.Add(Problem(pump, until, hours > 0 ? "its records begin with its end" : "it ended without a PTO hour on the meter"));
            }

            return;
        }

        lives.Add(new PumpLife
        {
            Truck = life.Truck,
            PumpSerial = life.PumpSerial,
            PumpModel = life.PumpModel,
            FittedAt = life.FittedAt,
            Until = until,
            EntryH = entry,
            ExitH = hours,
            Ending = life.EndedBy switch
            {
                null => LifeEnding.Running,
                ServiceKind.Failure => LifeEnding.Failed,
                ServiceKind.Rebuild => LifeEnding.Rebuilt,
                _ => LifeEnding.Removed,
            },
            EndedByMeasurement = life.EndedBy == ServiceKind.Rebuild
                && pump.Records.Any(r => r.Kind == ServiceKind.VaneWidth && r.At <= until && until - r.At <= MeasuredBefore && r.At >= life.FittedAt),
        });
    }

    /// <summary>Hours since fitting by the meter of each record of the life, over replaced meters, in order.</summary>
    private static List<(DateTimeOffset At, double HoursH)> Readings(PumpHistory pump)
    {
        var life = pump.Life;
        var readings = new List<(DateTimeOffset, double)> { (life.FittedAt, 0) };
        var offset = -life.MeterAtFittingH;
        foreach (var record in pump.Records.Where(r => r.At >= life.FittedAt && (life.EndedAt is not { } end || r.At < end)))
        {
            readings.Add((record.At, record.MeterH + offset));
            if (record.Kind == ServiceKind.MeterReplaced && record.Value is not null)
            {
                offset += record.MeterH - LifeClock.ValueH(record);
            }
        }

        if (life is { EndedAt: { } endedAt, MeterAtEndH: { } meterH })
        {
            readings.Add((endedAt, meterH + offset));
        }

        return readings;
    }

    /// <summary>The age at which records of a truck's first life begin.</summary>
    private static double Entry(PumpHistory pump, List<(DateTimeOffset At, double HoursH)> readings)
    {
        var firstRun = pump.Runs.FirstOrDefault(r => r.MeterStartH is not null);
        double? byRun = firstRun is null ? null : firstRun.MeterStartH - pump.Life.MeterAtFittingH;
        double? byRecord = readings.Count > 1 ? readings[1].HoursH : null;
        var entry = Math.Min(byRun ?? double.PositiveInfinity, byRecord ?? double.PositiveInfinity);
        return entry > EntryToleranceH && double.IsFinite(entry) ? entry : 0;
    }

    /// <summary>Lives of one serial number on two trucks at a time.</summary>
    private static Dictionary<PumpHistory, string> Overlaps(FleetData data)
    {
        var found = new Dictionary<PumpHistory, string>(ReferenceEqualityComparer.Instance);
        foreach (var serial in data.Pumps.GroupBy(p => (p.Life.PumpSerial, p.Life.PumpModel)))
        {
            foreach (var one in serial)
            {
                if (serial.FirstOrDefault(o => o.Life.Truck != one.Life.Truck && IsBoth(one.Life, o.Life)) is { } other)
                {
                    found[one] = $"pump {one.Life.PumpSerial} is recorded on truck {other.Life.Truck} at the same time";
                }
            }
        }

        return found;
    }

    private static bool IsBoth(Life a, Life b) => !(a.EndedAt <= b.FittedAt) && !(b.EndedAt <= a.FittedAt);

    /// <summary>Records that end a life where none ran; a rebuild on the bench between removal and fitting is none.</summary>
    private static IEnumerable<LifeProblem> Strays(Truck truck, IReadOnlyList<PumpHistory> pumps) => pumps[0].Records
        .Where(r => r.Kind is ServiceKind.Failure or ServiceKind.Removed)
        .Where(r => !pumps.Any(p => r.At >= p.Life.FittedAt && !(r.At > p.Life.EndedAt)))
        .Select(r => new LifeProblem(truck.Id, null, null, r.At, $"a {(r.Kind == ServiceKind.Failure ? "failure" : "removal")} is recorded while no pump was on the truck"));

    private static LifeProblem Problem(PumpHistory pump, DateTimeOffset at, string why) => new(pump.Life.Truck, pump.Life.PumpSerial, pump.Life.PumpModel, at, why);
}
