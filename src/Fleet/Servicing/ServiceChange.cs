namespace Vanehour.Fleet.Servicing;

/// <summary>One entry of the history of service records: who changed what, when and why.</summary>
public sealed record ServiceChange
{
    /// <summary>The entry's place in the history, counted from 1; never used twice.</summary>
    public required long Number { get; init; }

    public required DateTimeOffset At { get; init; }

    /// <summary>The record's key in the register after the change; the former one where it was deleted.</summary>
    public required string Key { get; init; }

    /// <summary>The truck of the record after the change; the former one where it was deleted.</summary>
    public required string Truck { get; init; }

    /// <summary>Who did it, or null where nobody was named.</summary>
    public string? By { get; init; }

    public required ServiceChangeKind Action { get; init; }

    /// <summary>Why: a reason, or the name of the file it came in; null where none was given.</summary>
    public string? Why { get; init; }

    /// <summary>The record as it was; null where it was added.</summary>
    public ServiceRecord? Before { get; init; }

    /// <summary>The record as it was then; null where it was deleted.</summary>
    public ServiceRecord? After { get; init; }
}
