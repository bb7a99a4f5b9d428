using System.Buffers;
using System.Text.Json;
using Vanehour.Fleet;

namespace Vanehour.Ingest.Tests.Payloads;

/// <summary>Writes samples of one truck as a SenML pack in canonical SenML units, for round trips.</summary>
internal static class SenMLWriter
{
    public static byte[] Write(string truck, IReadOnlyList<Sample> samples)
    {
        var buffer = new ArrayBufferWriter<byte>();
        using (var json = new Utf8JsonWriter(buffer))
        {
            json.WriteStartArray();
            json.WriteStartObject();
            json.WriteString("bn", truck + "/");
            json.WriteEndObject();
            foreach (var sample in samples)
            {
                foreach (var info in SignalInfo.All)
                {
                    if (sample[info.Signal] is { } value)
                    {
                        WriteRecord(json, info, sample.UnixMs, value);
                    }
                }
            }

            json.WriteEndArray();
        }

        return buffer.WrittenSpan.ToArray();
    }

    private static void WriteRecord(Utf8JsonWriter json, SignalInfo info, long unixMs, double value)
    {
        json.WriteStartObject();
        json.WriteString("n", info.Name);
        json.WriteNumber("t", unixMs / 1000m);
        if (info.Signal == Signal.Pto)
        {
            json.WriteBoolean("vb", value == 1);
        }
        else
        {
            json.WriteString("u", info.Unit.Symbol == "L" ? "l" : info.Unit.Symbol);
            json.WriteNumber("v", value);
        }

        json.WriteEndObject();
    }
}
