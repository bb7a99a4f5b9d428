using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Host.Composition;

namespace Vanehour.Host.Output;

/// <summary>What telemetry says of a truck's meter about an instant.</summary>
internal sealed class MeterReadings(DataFolder data, Truck truck)
{
    // What a meter reading taken by hand may be off by; of our own.
    private const double ToleranceH = 1;
    private static readonly TimeSpan Near = TimeSpan.FromDays(1);

    /// <summary>The meter at the end of the last run before an instant, and when that was; null where none ended within a day before or the meter was replaced since.</summary>
    public (double MeterH, DateTimeOffset At)? Last(DateTimeOffset at) =>
        Before(at) is { } run && !ReplacedBetween(run.End, at) ? (run.MeterEndH!.Value, run.End) : null;

    /// <summary>A sentence where a record's meter is not what the runs about it say; else null.</summary>
    public string? Doubt(ServiceRecord record)
    {
        if (record.Kind == ServiceKind.MeterReplaced)
        {
            return null;
        }

        // A date without a time may be any time of that day.
        var local = TimeZoneInfo.ConvertTime(record.At, YardTime.ZoneOf(truck));
        var latest = local.TimeOfDay == TimeSpan.Zero ? record.At + Near : record.At;
        var before = Before(record.At);
        var after = data.Runs.Read(truck.Id, latest, latest + Near).FirstOrDefault(r => r.MeterStartH is not null);
        var lowH = before is not null && !ReplacedBetween(before.End, latest) ? before.MeterEndH : null;
        var highH = after is not null && !ReplacedBetween(record.At, after.Start) ? after.MeterStartH : null;
        if (lowH is { } low && (record.MeterH < low - ToleranceH || (highH is null && record.MeterH > low + (latest - before!.End).TotalHours + ToleranceH)))
        {
            return $"Look again at the meter: by telemetry it read {RecordText.Hours(low)} when the run before ended, on {YardTime.Text(truck, before!.End)}. It is recorded as given.";
        }

        return highH is { } high && record.MeterH > high + ToleranceH
            ? $"Look again at the meter: by telemetry it read {RecordText.Hours(high)} when the next run began, on {YardTime.Text(truck, after!.Start)}. It is recorded as given."
            : null;
    }

    private Run? Before(DateTimeOffset at) =>
        data.Runs.Read(truck.Id, at - Near - Near, at).LastOrDefault(r => r.MeterEndH is not null && r.End <= at && r.End >= at - Near);

    private bool ReplacedBetween(DateTimeOffset from, DateTimeOffset to) =>
        data.Register.ServiceRecords(truck.Id).Any(r => r.Kind == ServiceKind.MeterReplaced && r.At >= from && r.At <= to);
}
