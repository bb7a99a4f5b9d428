using Vanehour.Fleet.Units;

namespace Vanehour.Fleet.Servicing;

/// <summary>What a service record must hold by itself, whether it is typed or comes in a file.</summary>
internal static class ServiceRules
{
    /// <summary>What is wrong with a record: the column that is meant and one sentence each.</summary>
    public static IEnumerable<(string Column, string Reason)> Problems(ServiceRecord record, IReadOnlySet<string> modelNames)
    {
        var kind = ServiceKindInfo.Of(record.Kind);
        if (!double.IsFinite(record.MeterH))
        {
            yield return ("meter_h", "The meter must be a number.");
        }
        else if (record.MeterH < 0)
        {
            yield return ("meter_h", "The meter cannot be below zero.");
        }

        if (kind.TakesValue)
        {
            if (ValueProblem(record, kind) is { } wrong)
            {
                yield return wrong;
            }
        }
        else if (record.Value is not null)
        {
            yield return ("value", $"A record of kind {kind.Name} takes no value; put it into the note.");
        }

        if (record.Kind == ServiceKind.Fitted && (record.PumpSerial is null || record.PumpModel is null))
        {
            yield return (record.PumpSerial is null ? "pump_serial" : "pump_model", "A pump put on needs its serial and its model.");
        }

        if (record.PumpModel is { } model && !modelNames.Contains(model))
        {
            yield return ("pump_model", $"The pump model '{model}' is not registered; import its pump model file first or together.");
        }

        if (record.Kind == ServiceKind.Round && record.Note is null)
        {
            yield return ("note", "A round's note names the round.");
        }
    }

    private static (string Column, string Reason)? ValueProblem(ServiceRecord record, ServiceKindInfo kind)
    {
        if (record.Value is not { } value)
        {
            return ("value", $"A record of kind {kind.Name} needs a value.");
        }

        if (!double.IsFinite(value))
        {
            return ("value", "The value must be a number.");
        }

        if (record.Unit is not { } symbol || !kind.Symbols.Contains(symbol))
        {
            return ("unit", $"A record of kind {kind.Name} needs its unit, one of {string.Join(", ", kind.Symbols)}.");
        }

        // A hand reading may be below zero, a width, a volume, a setting or a meter may not.
        return value < 0 && (kind.Kind != ServiceKind.GaugeCheck || Unit.Find(symbol)!.Dimension is Dimension.Volume or Dimension.RotationalSpeed)
            ? ("value", "The value cannot be below zero.")
            : null;
    }
}
