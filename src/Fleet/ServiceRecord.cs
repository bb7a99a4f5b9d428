namespace Vanehour.Fleet;

/// <summary>What was done to a pump or truck, and when.</summary>
public sealed record ServiceRecord
{
    /// <summary>The keeper's own key, or null: then truck, instant, kind and meter are the key.</summary>
    public string? RecordId { get; init; }

    public required DateTimeOffset At { get; init; }

    public required string Truck { get; init; }

    /// <summary>PTO hours on the truck's meter.</summary>
    public required double MeterH { get; init; }

    public required ServiceKind Kind { get; init; }

    /// <summary>The value as given, in <see cref="Unit"/>; null where the kind has none.</summary>
    public double? Value { get; init; }

    /// <summary>The symbol of the unit of <see cref="Value"/>.</summary>
    public string? Unit { get; init; }

    public string? PumpSerial { get; init; }

    public string? PumpModel { get; init; }

    public string? Note { get; init; }

    /// <summary>The value in the SI unit of its dimension, or null where there is no value or no unit.</summary>
    public double? ValueSi => Value is { } v && Unit is { } u && Units.Unit.Find(u) is { } unit ? unit.ToSi(v) : null;
}
