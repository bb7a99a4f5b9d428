using System.Globalization;
using System.Text.Json;

namespace Vanehour.Simulator;

/// <summary>Writes the truth of a simulated fleet as JSON lines, one object a fault, drift, life, start-up check, stay out of service or piece of injected dirt. Keep it away from the data that is scored.</summary>
public static class TruthFile
{
    /// <summary>Writes the file, replacing one that is there; missing folders are made.</summary>
    /// <exception cref="IOException">It cannot be written.</exception>
    public static void Write(SimulatedFleet fleet, string file)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        ArgumentException.ThrowIfNullOrEmpty(file);
        if (Path.GetDirectoryName(Path.GetFullPath(file)) is { Length: > 0 } folder)
        {
            Directory.CreateDirectory(folder);
        }

        using var stream = File.Create(file);
        Write(fleet.Truth(), stream);
    }

    /// <summary>Writes the lines to a stream, which stays open.</summary>
    public static void Write(FleetTruth truth, Stream stream)
    {
        ArgumentNullException.ThrowIfNull(truth);
        ArgumentNullException.ThrowIfNull(stream);
        using var writer = new Utf8JsonWriter(stream);
        foreach (var fault in truth.Faults)
        {
            writer.WriteStartObject();
            writer.WriteString("type", "fault");
            writer.WriteString("truck", fault.Truck);
            writer.WriteString("pump_serial", fault.PumpSerial);
            writer.WriteString("fault", fault.Fault.ToString());
            WriteInstant(writer, "onset", fault.Onset);
            writer.WriteNumber("severity", fault.Severity);
            writer.WriteBoolean("serious", fault.Serious);
            WriteInstant(writer, "harm_at", fault.HarmAt);
            WriteInstant(writer, "ends", fault.Ends);
            writer.WriteStartArray("findings");
            foreach (var finding in fault.Findings)
            {
                writer.WriteStringValue(finding);
            }

            writer.WriteEndArray();
            EndLine(writer, stream);
        }

        foreach (var life in truth.Lives)
        {
            writer.WriteStartObject();
            writer.WriteString("type", "life");
            writer.WriteString("truck", life.Truck);
            writer.WriteString("pump_serial", life.PumpSerial);
            WriteInstant(writer, "fitted_at", life.FittedAt);
            WriteHours(writer, "meter_at_fitting_h", life.MeterAtFittingH);
            WriteInstant(writer, "limit_at", life.LimitAt);
            WriteHours(writer, "limit_at_h", life.LimitAtH);
            WriteHours(writer, "fails_at_h", life.FailsAtH);
            WriteInstant(writer, "removed_at", life.RemovedAt);
            EndLine(writer, stream);
        }

        foreach (var check in truth.Checks)
        {
            writer.WriteStartObject();
            writer.WriteString("type", "check");
            writer.WriteString("truck", check.Truck);
            WriteInstant(writer, "at", check.At);
            writer.WriteBoolean("complete", check.Complete);
            writer.WriteNumber("gas_share", Math.Round(check.GasShare, 4));
            writer.WriteNumber("flow_kept", Math.Round(check.FlowKept, 4));
            EndLine(writer, stream);
        }

        foreach (var drift in truth.Drifts)
        {
            writer.WriteStartObject();
            writer.WriteString("type", "drift");
            writer.WriteString("truck", drift.Truck);
            WriteInstant(writer, "onset", drift.Onset);
            writer.WriteNumber("factor", drift.Factor);
            EndLine(writer, stream);
        }

        foreach (var stay in truth.Stays)
        {
            writer.WriteStartObject();
            writer.WriteString("type", "stay");
            writer.WriteString("truck", stay.Truck);
            WriteInstant(writer, "from", stay.From);
            WriteInstant(writer, "to", stay.To);
            EndLine(writer, stream);
        }

        foreach (var happened in truth.Gateway)
        {
            writer.WriteStartObject();
            writer.WriteString("type", "gateway");
            writer.WriteString("truck", happened.Truck);
            writer.WriteString("kind", happened.Kind.ToString());
            WriteInstant(writer, "from", happened.From);
            WriteInstant(writer, "to", happened.To);
            EndLine(writer, stream);
        }
    }

    private static void EndLine(Utf8JsonWriter writer, Stream stream)
    {
        writer.WriteEndObject();
        writer.Flush();
        stream.WriteByte((byte)'\n');
        writer.Reset();
    }

    private static void WriteInstant(Utf8JsonWriter writer, string name, DateTimeOffset? at)
    {
        if (at is { } instant)
        {
            writer.WriteString(name, instant.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture));
        }
        else
        {
            writer.WriteNull(name);
        }
    }

    private static void WriteHours(Utf8JsonWriter writer, string name, double? hours)
    {
        if (hours is { } h)
        {
            writer.WriteNumber(name, Math.Round(h, 2));
        }
        else
        {
            writer.WriteNull(name);
        }
    }
}
