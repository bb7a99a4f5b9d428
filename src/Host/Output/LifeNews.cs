using Vanehour.Fleet;
using Vanehour.Fleet.Lives;
using Vanehour.Fleet.Servicing;

namespace Vanehour.Host.Output;

/// <summary>What a service record means for the lives of a truck's pumps, in words.</summary>
internal static class LifeNews
{
    public static bool IsOne(ServiceKind kind) => kind is ServiceKind.Rebuild or ServiceKind.Failure or ServiceKind.Removed or ServiceKind.Fitted;

    /// <summary>What a record that was added means; null where it means nothing for a life.</summary>
    /// <param name="record">The record.</param>
    /// <param name="truck">Its truck.</param>
    /// <param name="records">The truck's records, that one among them.</param>
    public static string? Of(ServiceRecord record, Truck truck, IReadOnlyList<ServiceRecord> records)
    {
        if (!IsOne(record.Kind))
        {
            return null;
        }

        var lives = LifeHistory.Build(truck, records);
        var ended = lives.LastOrDefault(l => l.EndedAt == record.At && (l.EndedBy == record.Kind || record.Kind == ServiceKind.Fitted));
        var started = lives.LastOrDefault(l => l.FittedAt == record.At);
        if (ended is not null)
        {
            var ran = $"The life of pump {ended.PumpSerial} ended after {RecordText.Hours(new MeterLine(truck, records).HoursOf(ended) ?? 0)}";
            return started is null
                ? $"{ran}; no pump is on {truck.Id} until one is recorded as fitted. The next analysis takes it up."
                : $"{ran}; a new life{(started.PumpSerial == ended.PumpSerial ? string.Empty : $" of pump {started.PumpSerial}")} starts, and the next analysis takes it up.";
        }

        return record.Kind == ServiceKind.Rebuild
            ? "It is the repair of the failure before it, as no PTO hour lies between; the new life starts with it, and the next analysis takes it up."
            : started is null ? null : $"A new life of pump {started.PumpSerial} starts, and the next analysis takes it up.";
    }
}
