using System.Text.Json;
using System.Text.Json.Serialization;

namespace Vanehour.Host.Output;

/// <summary>Writes numbers with <see cref="SensibleDigits"/>.</summary>
public sealed class SensibleDigitsConverter : JsonConverter<double>
{
    /// <inheritdoc/>
    public override double Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => reader.GetDouble();

    /// <inheritdoc/>
    public override void Write(Utf8JsonWriter writer, double value, JsonSerializerOptions options)
    {
        ArgumentNullException.ThrowIfNull(writer);
        writer.WriteNumberValue(SensibleDigits.Of(value));
    }
}
