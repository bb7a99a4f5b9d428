using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Vanehour.Models.Results;

/// <summary>Writes instants in UTC with a Z; reads any ISO 8601 instant that has an offset.</summary>
public sealed class UtcInstantConverter : JsonConverter<DateTimeOffset>
{
    /// <inheritdoc/>
    public override DateTimeOffset Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        reader.TryGetDateTimeOffset(out var value) ? value.ToUniversalTime() : throw new JsonException("An instant must be ISO 8601.");

    /// <inheritdoc/>
    public override void Write(Utf8JsonWriter writer, DateTimeOffset value, JsonSerializerOptions options)
    {
        ArgumentNullException.ThrowIfNull(writer);
        writer.WriteStringValue(value.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.FFFFFFF'Z'", CultureInfo.InvariantCulture));
    }
}
