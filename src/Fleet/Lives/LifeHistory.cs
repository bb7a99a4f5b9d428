namespace Vanehour.Fleet.Lives;

/// <summary>Reads the lives of a truck's pumps from its registration and its service records.</summary>
public static class LifeHistory
{
    /// <summary>
    /// The lives in order of fitting. A rebuild, failure or removal ends the life running; a fitting at the same meter reading starts the next,
    /// without one the next starts there with the same pump (not after a removal). A rebuild that follows a failure with no hours between is the repair.
    /// Records older than the registered fitting do not reach into the registered life.
    /// </summary>
    /// <param name="truck">The truck.</param>
    /// <param name="records">Its service records, in any order; those of other trucks are passed over.</param>
    public static IReadOnlyList<Life> Build(Truck truck, IEnumerable<ServiceRecord> records)
    {
        ArgumentNullException.ThrowIfNull(truck);
        ArgumentNullException.ThrowIfNull(records);

        var lives = new List<Life>();
        Life? running = new Life
        {
            Truck = truck.Id,
            PumpSerial = truck.PumpSerial,
            PumpModel = truck.PumpModel,
            FittedAt = truck.PumpFitted,
            MeterAtFittingH = truck.MeterAtFittingH,
        };

        var relevant = records
            .Where(r => string.Equals(r.Truck, truck.Id, StringComparison.Ordinal) && r.At >= truck.PumpFitted && IsLifeEvent(r.Kind))
            .OrderBy(r => r.At)
            .ThenBy(r => r.MeterH)
            .ThenBy(r => Order(r.Kind));
        foreach (var record in relevant)
        {
            if (record.Kind == ServiceKind.Fitted)
            {
                Fit(record);
            }
            else
            {
                End(record);
            }
        }

        if (running is not null)
        {
            lives.Add(running);
        }

        return lives;

        void Fit(ServiceRecord record)
        {
            if (running is not null && record.MeterH > running.MeterAtFittingH)
            {
                // A pump put on says that the one before came off, though nobody wrote it down.
                lives.Add(running with { EndedAt = record.At, MeterAtEndH = record.MeterH, EndedBy = ServiceKind.Removed });
            }

            running = new Life
            {
                Truck = truck.Id,
                PumpSerial = record.PumpSerial ?? truck.PumpSerial,
                PumpModel = record.PumpModel ?? truck.PumpModel,
                FittedAt = record.At,
                MeterAtFittingH = record.MeterH,
            };
        }

        void End(ServiceRecord record)
        {
            if (running is null)
            {
                return;
            }

            var isRepair = record.Kind == ServiceKind.Rebuild
                && lives.Count > 0
                && lives[^1].EndedBy == ServiceKind.Failure
                && record.MeterH <= running.MeterAtFittingH;
            if (isRepair)
            {
                running = running with { FittedAt = record.At };
                return;
            }

            lives.Add(running with { EndedAt = record.At, MeterAtEndH = record.MeterH, EndedBy = record.Kind });
            running = record.Kind == ServiceKind.Removed
                ? null
                : running with { FittedAt = record.At, MeterAtFittingH = record.MeterH };
        }
    }

    private static bool IsLifeEvent(ServiceKind kind) =>
        kind is ServiceKind.Rebuild or ServiceKind.Failure or ServiceKind.Fitted or ServiceKind.Removed;

    private static int Order(ServiceKind kind) => kind switch
    {
        ServiceKind.Failure => 0,
        ServiceKind.Rebuild => 1,
        ServiceKind.Removed => 2,
        _ => 3,
    };
}
