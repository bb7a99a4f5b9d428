using System.Globalization;
using Vanehour.Fleet;

namespace Vanehour.Host.Output;

/// <summary>What changed of one field of a service record, named as in service files.</summary>
/// <param name="Field">The field.</param>
/// <param name="Before">What it said; null for nothing.</param>
/// <param name="After">What it says; null for nothing.</param>
public sealed record FieldChange(string Field, string? Before, string? After)
{
    /// <summary>The fields in which two records differ; null stands for no record.</summary>
    public static IReadOnlyList<FieldChange> Between(ServiceRecord? before, ServiceRecord? after) =>
        [.. Fields(before).Zip(Fields(after), (b, a) => new FieldChange(b.Name, b.Value, a.Value)).Where(f => f.Before != f.After)];

    /// <summary>The changes in one line.</summary>
    public static string Text(IEnumerable<FieldChange> changes) => string.Join("; ", changes.Select(c => c switch
    {
        { Before: null } => $"{c.Field} {c.After}",
        { After: null } => $"{c.Field} no longer {c.Before}",
        _ => $"{c.Field} {c.Before} -> {c.After}",
    }));

    private static IEnumerable<(string Name, string? Value)> Fields(ServiceRecord? record) =>
    [
        ("date", record?.At.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.FFF'Z'", CultureInfo.InvariantCulture)),
        ("truck", record?.Truck),
        ("meter_h", record?.MeterH.ToString("R", CultureInfo.InvariantCulture)),
        ("kind", record is null ? null : ServiceKindInfo.Of(record.Kind).Name),
        ("value", record?.Value?.ToString("R", CultureInfo.InvariantCulture)),
        ("unit", record?.Unit),
        ("pump_serial", record?.PumpSerial),
        ("pump_model", record?.PumpModel),
        ("note", record?.Note),
    ];
}
