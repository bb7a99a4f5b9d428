using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Vanehour.Store.Sqlite;

/// <summary>Instants as UTC ISO 8601 with milliseconds, the precision of every instant that is kept.</summary>
internal sealed class UtcMillisecondConverter : JsonConverter<DateTimeOffset>
{
    /// <inheritdoc/>
    public override DateTimeOffset Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        reader.GetDateTimeOffset().ToUniversalTime();

    /// <inheritdoc/>
    public override void Write(Utf8JsonWriter writer, DateTimeOffset value, JsonSerializerOptions options) =>
        writer.WriteStringValue(value.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture));
}
