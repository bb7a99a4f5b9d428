using System.Buffers;
using System.Text.Encodings.Web;
using System.Text.Json;
using Vanehour.Fleet;
using Vanehour.Simulator.Sensors;

namespace Vanehour.Simulator.Publishing;

/// <summary>
/// Writes readings of one truck as SenML JSON packs: base name and base time on the first record, times of the others relative to it (left out where 0).
/// </summary>
/// <remarks>[RFC8428] C. Jennings et al., Sensor Measurement Lists (SenML), RFC 8428 (2018), sections 4 and 5.</remarks>
internal sealed class SenMLEncoder : IDisposable
{
    private static readonly JsonEncodedText BaseName = Text("bn");
    private static readonly JsonEncodedText BaseTime = Text("bt");
    private static readonly JsonEncodedText Name = Text("n");
    private static readonly JsonEncodedText UnitName = Text("u");
    private static readonly JsonEncodedText Time = Text("t");
    private static readonly JsonEncodedText Value = Text("v");
    private static readonly JsonEncodedText Flag = Text("vb");
    private static readonly JsonEncodedText[] SignalNames = [.. SignalInfo.All.Select(i => Text(i.Name))];

    private readonly ArrayBufferWriter<byte> buffer = new(16 * 1024);
    private readonly Utf8JsonWriter writer;
    private readonly JsonEncodedText baseName;
    private readonly JsonEncodedText[] units = new JsonEncodedText[SignalInfo.Count];

    /// <summary>An encoder for one truck.</summary>
    public SenMLEncoder(string truck, SensorSet sensors)
    {
        // The relaxed encoder leaves a slash as it is; nothing here is ever shown as HTML.
        writer = new Utf8JsonWriter(buffer, new JsonWriterOptions { SkipValidation = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping });
        baseName = Text(truck + "/");
        Topic = $"fleet/{truck}/pump";
        for (var i = 0; i < units.Length; i++)
        {
            units[i] = Text(sensors[(Signal)i]?.Unit.Symbol ?? string.Empty);
        }
    }

    public string Topic { get; }

    /// <summary>The payload of a pack.</summary>
    /// <param name="readings">One or more, in order of time.</param>
    public byte[] Encode(ReadOnlySpan<Reading> readings)
    {
        buffer.ResetWrittenCount();
        writer.Reset(buffer);
        var baseTime = readings[0].UnixS;
        var first = true;
        writer.WriteStartArray();
        foreach (ref readonly var reading in readings)
        {
            for (var i = 0; i < SignalInfo.Count; i++)
            {
                var value = reading.Values[i];
                if (double.IsNaN(value))
                {
                    continue;
                }

                writer.WriteStartObject();
                if (first)
                {
                    writer.WriteString(BaseName, baseName);
                    writer.WriteNumber(BaseTime, baseTime);
                    first = false;
                }

                WriteRecord((Signal)i, reading.UnixS - baseTime, value);
                writer.WriteEndObject();
            }
        }

        writer.WriteEndArray();
        writer.Flush();
        return buffer.WrittenSpan.ToArray();
    }

    /// <inheritdoc/>
    public void Dispose() => writer.Dispose();

    private static JsonEncodedText Text(string value) => JsonEncodedText.Encode(value, JavaScriptEncoder.UnsafeRelaxedJsonEscaping);

    private void WriteRecord(Signal signal, long time, double value)
    {
        writer.WriteString(Name, SignalNames[(int)signal]);
        if (signal != Signal.Pto)
        {
            writer.WriteString(UnitName, units[(int)signal]);
        }

        if (time != 0)
        {
            writer.WriteNumber(Time, time);
        }

        if (signal == Signal.Pto)
        {
            writer.WriteBoolean(Flag, value != 0);
        }
        else
        {
            writer.WriteNumber(Value, value);
        }
    }
}
