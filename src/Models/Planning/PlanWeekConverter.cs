using System.Text.Json;
using System.Text.Json.Serialization;

namespace Vanehour.Models.Planning;

/// <summary>Writes a week as 2027-W05.</summary>
public sealed class PlanWeekConverter : JsonConverter<PlanWeek>
{
    /// <inheritdoc/>
    public override PlanWeek Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        PlanWeek.TryParse(reader.GetString(), out var week) ? week : throw new JsonException("A week must be as 2027-W05.");

    /// <inheritdoc/>
    public override void Write(Utf8JsonWriter writer, PlanWeek value, JsonSerializerOptions options)
    {
        ArgumentNullException.ThrowIfNull(writer);
        writer.WriteStringValue(value.ToString());
    }
}
