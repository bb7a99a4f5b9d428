using Vanehour.Fleet;
using Vanehour.Fleet.Servicing;

namespace Vanehour.Host.Output;

/// <summary>A service record as listed.</summary>
/// <param name="record">The record.</param>
public sealed class RecordRow(ServiceRecord record)
{
    /// <summary>The id by which 'record edit' and 'record delete' take it.</summary>
    public string Id { get; } = ServiceId.Of(record);

    public string? RecordId => record.RecordId;

    public DateTimeOffset Date => record.At;

    public string Truck => record.Truck;

    /// <summary>PTO hours on the truck's meter, h.</summary>
    public double MeterH => record.MeterH;

    public string Kind => ServiceKindInfo.Of(record.Kind).Name;

    /// <summary>The value in <see cref="Unit"/>; null where the kind has none.</summary>
    public double? Value => record.Value;

    public string? Unit => record.Unit;

    public string? PumpSerial => record.PumpSerial;

    public string? PumpModel => record.PumpModel;

    public string? Note => record.Note;
}
