namespace Vanehour.Fleet.Servicing;

/// <summary>
/// One line of PTO hours over a truck's meters: what a reading stands for after meters were replaced or, of four digits, began again. Dates without a time (midnight at the yard) may be
/// any time of that day, so that a reading may be of the meter before or after one replaced meanwhile.
/// </summary>
public sealed class MeterLine
{
    // Hour meters of four digits begin again at zero; how near to that a reading must be on either side is of our own.
    private const double RollsOverAtH = 10_000;
    private const double NearRollOverH = 1000;
    private static readonly TimeSpan Day = TimeSpan.FromDays(1);
    private readonly TimeZoneInfo zone;
    private readonly List<Step> steps = [];

    /// <param name="truck">The truck.</param>
    /// <param name="records">Its service records, in any order; those of other trucks are passed over.</param>
    public MeterLine(Truck truck, IEnumerable<ServiceRecord> records)
    {
        ArgumentNullException.ThrowIfNull(truck);
        ArgumentNullException.ThrowIfNull(records);
        zone = YardTime.ZoneOf(truck);
        var offsetH = 0.0;
        (DateTimeOffset At, double MeterH) last = (truck.PumpFitted, truck.MeterAtFittingH);
        foreach (var record in records.Where(r => r.Truck == truck.Id).OrderBy(r => r.At).ThenByDescending(r => r.MeterH))
        {
            if (record.MeterH < NearRollOverH && last.MeterH > RollsOverAtH - NearRollOverH
                && RollsOverAtH + record.MeterH - last.MeterH <= (Latest(record.At) - last.At).TotalHours)
            {
                offsetH += RollsOverAtH;
                steps.Add(new Step(null, record.At, offsetH, offsetH - RollsOverAtH));
            }
            else if (record.MeterH > RollsOverAtH - NearRollOverH && last.MeterH < NearRollOverH && steps is [.., { Record: null }])
            {
                // Written up late, of the days before the meter began again.
                continue;
            }

            last = (record.At, record.MeterH);
            if (record is { Kind: ServiceKind.MeterReplaced, Value: not null })
            {
                var beforeH = offsetH;
                offsetH += record.MeterH - NewMeterH(record);
                steps.Add(new Step(record, record.At, offsetH, beforeH));
                last = (record.At, NewMeterH(record));
            }
        }
    }

    /// <summary>PTO hours from fitting to the end of a life by the meter, over replaced meters, h; null while it runs.</summary>
    public double? HoursOf(Lives.Life life)
    {
        ArgumentNullException.ThrowIfNull(life);
        return life is { EndedAt: { } endedAt, MeterAtEndH: { } endH } ? At(endedAt, endH) - At(life.FittedAt, life.MeterAtFittingH) : null;
    }

    /// <summary>When what is dated so may have been at the latest.</summary>
    internal DateTimeOffset Latest(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, zone).TimeOfDay == TimeSpan.Zero ? at + Day : at;

    /// <summary>The lowest and the highest that a reading can stand for, when it was taken between two instants.</summary>
    internal (double LowH, double HighH) Range(DateTimeOffset earliest, DateTimeOffset latest, double meterH)
    {
        var (lowH, highH) = (double.PositiveInfinity, double.NegativeInfinity);
        var first = steps.Count(p => Latest(p.At) < earliest);
        var last = steps.Count(p => p.At <= latest);
        for (var i = first; i <= last; i++)
        {
            var offsetH = i == 0 ? 0 : steps[i - 1].AfterH;
            (lowH, highH) = (Math.Min(lowH, meterH + offsetH), Math.Max(highH, meterH + offsetH));
        }

        return (lowH, highH);
    }

    /// <summary>What the last reading of a meter that was replaced stands for.</summary>
    internal double Replaced(ServiceRecord record) => record.MeterH + steps.First(p => p.Record == record).BeforeH;

    private static double NewMeterH(ServiceRecord record) =>
        record.ValueSi is { } seconds ? Units.Unit.Hour.FromSi(seconds) : record.Value!.Value;

    private double At(DateTimeOffset at, double meterH)
    {
        var before = steps.Count(p => p.At < at || (p.Record is null && p.At == at && meterH < NearRollOverH));
        return meterH + (before == 0 ? 0 : steps[before - 1].AfterH);
    }

    /// <summary>A meter that was replaced, or began again (no record).</summary>
    private sealed record Step(ServiceRecord? Record, DateTimeOffset At, double AfterH, double BeforeH);
}
