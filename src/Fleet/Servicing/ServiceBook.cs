using Vanehour.Fleet.Register;

namespace Vanehour.Fleet.Servicing;

/// <summary>
/// The service records as people keep them: added, edited and deleted with a history of who changed what, when and why. What would make a truck's history
/// contradictory is refused; what was contradictory before can be edited.
/// </summary>
/// <param name="register">The register.</param>
/// <param name="time">The clock.</param>
public sealed class ServiceBook(FleetRegister register, TimeProvider time)
{
    /// <summary>Adds a record; one without an id of its own gets one, so that it stays the same record when it is edited.</summary>
    /// <param name="record">The record.</param>
    /// <param name="by">Who says so, or null.</param>
    /// <param name="why">Why, or null.</param>
    public ServiceOutcome Add(ServiceRecord record, string? by, string? why = null)
    {
        ArgumentNullException.ThrowIfNull(record);
        return register.Transact(open =>
        {
            var held = open.ServiceRecords();
            if (held.FirstOrDefault(h => h.Record with { RecordId = record.RecordId } == record) is { } same)
            {
                return new ServiceOutcome(ServiceOutcomeKind.Unchanged, same.Record, same.Record, null);
            }

            var taken = held.Select(h => h.Record).Concat(open.Changes(null).Select(c => c.Before).OfType<ServiceRecord>())
                .Select(ServiceId.Of).ToHashSet(StringComparer.OrdinalIgnoreCase);
            if (record.RecordId is { } id && taken.Contains(id))
            {
                return ServiceOutcome.Refused($"There is or was a record {id} already; edit that one, or choose another id.");
            }

            var named = record.RecordId is null ? record with { RecordId = ServiceId.New(record, time.GetUtcNow(), taken) } : record;
            return Put(open, held, null, named, by, why);
        });
    }

    /// <summary>Edits the one record whose id is or begins with <paramref name="id"/>. Its own id cannot be edited.</summary>
    /// <param name="id">The id, or as much of its beginning as names one alone.</param>
    /// <param name="change">Makes the record as it should be.</param>
    /// <param name="by">Who says so, or null.</param>
    /// <param name="why">Why, or null.</param>
    public ServiceOutcome Edit(string id, Func<ServiceRecord, ServiceRecord> change, string? by, string? why = null)
    {
        ArgumentNullException.ThrowIfNull(id);
        ArgumentNullException.ThrowIfNull(change);
        return register.Transact(open =>
        {
            var held = open.ServiceRecords();
            if (One(open, held, id, out var outcome) is not { } found)
            {
                return outcome!;
            }

            var edited = change(found.Record) with { RecordId = found.Record.RecordId };
            return edited == found.Record
                ? new ServiceOutcome(ServiceOutcomeKind.Unchanged, found.Record, found.Record, null)
                : Put(open, held, found, edited, by, why);
        });
    }

    /// <summary>Deletes the one record whose id is or begins with <paramref name="id"/>; the history keeps it.</summary>
    /// <param name="id">The id, or as much of its beginning as names one alone.</param>
    /// <param name="by">Who says so, or null.</param>
    /// <param name="why">Why, or null.</param>
    public ServiceOutcome Delete(string id, string? by, string? why = null)
    {
        ArgumentNullException.ThrowIfNull(id);
        return register.Transact(open =>
        {
            var held = open.ServiceRecords();
            if (One(open, held, id, out var outcome) is not { } found)
            {
                return outcome!;
            }

            var now = time.GetUtcNow();
            if (new HistoryCheck(open.Trucks(), now, isFile: false).Added(held, [.. held.Where(h => h != found)]) is [var first, ..])
            {
                return ServiceOutcome.Refused($"Without record {ServiceId.Of(found.Record)}: {first.Sentence}");
            }

            open.Delete(found, now, by, why);
            return new ServiceOutcome(ServiceOutcomeKind.Done, found.Record, null, null);
        });
    }

    /// <summary>The records whose id is <paramref name="id"/>, or else begins with it, whatever the case, in order of instant.</summary>
    public IReadOnlyList<ServiceRecord> Find(string id)
    {
        ArgumentNullException.ThrowIfNull(id);
        return [.. Matching(register.ServiceRecords(), r => r, id)];
    }

    /// <summary>The history in the order in which it came about: of the records that are or were of one truck, or of all.</summary>
    public IReadOnlyList<ServiceChange> History(string? truck = null) => register.Transact(open => open.Changes(truck));

    private static IEnumerable<T> Matching<T>(IReadOnlyList<T> all, Func<T, ServiceRecord> record, string id)
    {
        if (id.Length == 0)
        {
            return [];
        }

        var exact = all.Where(a => ServiceId.Of(record(a)) == id).ToList();
        return exact.Count > 0 ? exact : all.Where(a => ServiceId.Of(record(a)).StartsWith(id, StringComparison.OrdinalIgnoreCase));
    }

    private static HeldRecord? One(RegisterTransaction open, IReadOnlyList<HeldRecord> held, string id, out ServiceOutcome? outcome)
    {
        outcome = null;
        switch (Matching(held, h => h.Record, id).ToList())
        {
            case [var one]:
                return one;
            case []:
                var deleted = id.Length == 0 ? null : open.Changes(null).LastOrDefault(c => c.Action == ServiceChangeKind.Deleted && ServiceId.Of(c.Before!) == id);
                outcome = new ServiceOutcome(ServiceOutcomeKind.NotFound, null, null, deleted is null
                    ? id.Length == 0 ? "The id is empty; see 'vanehour record list'." : $"There is no record {id}; see 'vanehour record list'."
                    : $"Record {id} was deleted on {deleted.At.UtcDateTime:yyyy-MM-dd}{(deleted.By is { } by ? " by " + by : string.Empty)}; see 'vanehour record history {deleted.Truck}'.");
                return null;
            case var several:
                var names = string.Join(", ", several.Take(5).Select(h => ServiceId.Of(h.Record)));
                outcome = new ServiceOutcome(
                    ServiceOutcomeKind.Ambiguous, null, null, $"{several.Count} records begin with {id}: {names}{(several.Count > 5 ? ", ..." : string.Empty)}; give more of it.");
                return null;
        }
    }

    private ServiceOutcome Put(RegisterTransaction open, IReadOnlyList<HeldRecord> held, HeldRecord? former, ServiceRecord record, string? by, string? why)
    {
        var trucks = open.Trucks();
        if (trucks.All(t => t.Id != record.Truck))
        {
            return ServiceOutcome.Refused($"Truck '{record.Truck}' is not registered; see 'vanehour trucks'.");
        }

        var models = open.PumpModels().Select(m => m.Model).ToHashSet(StringComparer.Ordinal);
        foreach (var (_, reason) in ServiceRules.Problems(record, models))
        {
            return ServiceOutcome.Refused(reason);
        }

        var key = FleetRegister.KeyOf(record);
        if (key != former?.Token && held.FirstOrDefault(h => h.Token == key) is { } other)
        {
            return ServiceOutcome.Refused($"Record {ServiceId.Of(other.Record)} has the same truck, date, kind and meter; edit or delete that one.");
        }

        var now = time.GetUtcNow();
        var token = former?.Token ?? key;
        HeldRecord[] after = [.. held.Where(h => h != former), new HeldRecord(token, record)];
        if (new HistoryCheck(trucks, now, isFile: false).Added(held, after) is [var first, ..])
        {
            return ServiceOutcome.Refused(first.Sentence);
        }

        open.Put(token, record, now, by, why);
        return new ServiceOutcome(ServiceOutcomeKind.Done, former?.Record, record, null);
    }
}
