using Vanehour.Fleet;
using Vanehour.Fleet.Servicing;

namespace Vanehour.Host.Output;

/// <summary>An entry of the history of service records as listed.</summary>
/// <param name="change">The entry.</param>
public sealed class RecordChangeRow(ServiceChange change)
{
    /// <summary>The entry's place in the history, from 1.</summary>
    public long Number => change.Number;

    public DateTimeOffset At => change.At;

    public string? By => change.By;

    public ServiceChangeKind Action => change.Action;

    /// <summary>The id the record has by this change, or had before it was deleted.</summary>
    public string Id { get; } = ServiceId.Of((change.After ?? change.Before)!);

    public string Truck => change.Truck;

    public string Kind => ServiceKindInfo.Of((change.After ?? change.Before)!.Kind).Name;

    public string? Why => change.Why;

    /// <summary>What differs, field by field.</summary>
    public IReadOnlyList<FieldChange> Changes { get; } = FieldChange.Between(change.Before, change.After);
}
