using System.Collections.Immutable;

namespace Vanehour.Fleet.Servicing;

/// <summary>
/// One line of PTO hours over a truck's meters: what a reading stands for after meters were replaced. Dates without a time (midnight at the yard) may be
/// any time of that day, so that a reading may be of the meter before or after one replaced meanwhile.
/// </summary>
public sealed class MeterLine
{
    private static readonly TimeSpan Day = TimeSpan.FromDays(1);
    private readonly TimeZoneInfo zone;
    private readonly ImmutableArray<ServiceRecord> replaced;
    private readonly double[] offsetsH;

    /// <param name="truck">The truck.</param>
    /// <param name="records">Its service records, in any order; those of other trucks are passed over.</param>
    public MeterLine(Truck truck, IEnumerable<ServiceRecord> records)
    {
        ArgumentNullException.ThrowIfNull(truck);
        ArgumentNullException.ThrowIfNull(records);
        zone = ZoneOf(truck);
        replaced = [.. records
            .Where(r => r.Truck == truck.Id && r.Kind == ServiceKind.MeterReplaced && r.Value is not null)
            .OrderBy(r => r.At).ThenBy(r => r.MeterH)];
        offsetsH = new double[replaced.Length + 1];
        for (var i = 0; i < replaced.Length; i++)
        {
            offsetsH[i + 1] = offsetsH[i] + replaced[i].MeterH - NewMeterH(replaced[i]);
        }
    }

    /// <summary>PTO hours from fitting to the end of a life by the meter, over replaced meters, h; null while it runs.</summary>
    public double? HoursOf(Lives.Life life)
    {
        ArgumentNullException.ThrowIfNull(life);
        return life is { EndedAt: { } endedAt, MeterAtEndH: { } endH } ? At(endedAt, endH) - At(life.FittedAt, life.MeterAtFittingH) : null;
    }

    /// <summary>The truck's time zone; UTC where it is unknown here.</summary>
    internal static TimeZoneInfo ZoneOf(Truck truck) => TimeZoneInfo.TryFindSystemTimeZoneById(truck.TimeZone, out var found) ? found : TimeZoneInfo.Utc;

    /// <summary>When what is dated so may have been at the latest.</summary>
    internal DateTimeOffset Latest(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, zone).TimeOfDay == TimeSpan.Zero ? at + Day : at;

    /// <summary>The lowest and the highest that a reading can stand for, when it was taken between two instants.</summary>
    internal (double LowH, double HighH) Range(DateTimeOffset earliest, DateTimeOffset latest, double meterH)
    {
        var (lowH, highH) = (double.PositiveInfinity, double.NegativeInfinity);
        var first = replaced.Count(r => Latest(r.At) < earliest);
        var last = replaced.Count(r => r.At <= latest);
        for (var i = first; i <= last; i++)
        {
            (lowH, highH) = (Math.Min(lowH, meterH + offsetsH[i]), Math.Max(highH, meterH + offsetsH[i]));
        }

        return (lowH, highH);
    }

    /// <summary>What the last reading of a meter that was replaced stands for.</summary>
    internal double Replaced(ServiceRecord record) => record.MeterH + offsetsH[replaced.IndexOf(record)];

    private static double NewMeterH(ServiceRecord record) =>
        record.ValueSi is { } seconds ? Units.Unit.Hour.FromSi(seconds) : record.Value!.Value;

    private double At(DateTimeOffset at, double meterH) => meterH + offsetsH[replaced.Count(r => r.At < at)];
}
