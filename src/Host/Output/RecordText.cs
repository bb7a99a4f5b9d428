using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Fleet.Servicing;

namespace Vanehour.Host.Output;

/// <summary>Service records in words.</summary>
internal static class RecordText
{
    public static string Hours(double hours) => string.Create(CultureInfo.InvariantCulture, $"{hours:#,0.##} h");

    /// <summary>As "rebuild of T07 on 2026-03-09 at 4,400.5 h".</summary>
    public static string Of(ServiceRecord record, Truck truck)
    {
        var value = record.Value is { } v ? string.Create(CultureInfo.InvariantCulture, $" {v} {record.Unit}") : string.Empty;
        return $"{ServiceKindInfo.Of(record.Kind).Name}{value} of {record.Truck} on {YardTime.Text(truck, record.At)} at {Hours(record.MeterH)}";
    }

    /// <summary>The outcome, where it is none that failed.</summary>
    /// <exception cref="CommandFailedException">It failed; the sentence says why.</exception>
    public static ServiceOutcome Require(ServiceOutcome outcome) =>
        outcome.Refusal is { } sentence ? throw new CommandFailedException(sentence) : outcome;
}
