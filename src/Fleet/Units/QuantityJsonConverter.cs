using System.Text.Json;
using System.Text.Json.Serialization;

namespace Vanehour.Fleet.Units;

/// <summary>Writes a quantity as its SI value, a JSON number.</summary>
/// <typeparam name="T">The quantity.</typeparam>
public sealed class QuantityJsonConverter<T> : JsonConverter<T>
    where T : struct, IQuantity<T>
{
    /// <inheritdoc/>
    public override T Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        try
        {
            return T.FromSi(reader.GetDouble());
        }
        catch (ArgumentOutOfRangeException e)
        {
            throw new JsonException(e.Message, e);
        }
    }

    /// <inheritdoc/>
    public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options)
    {
        ArgumentNullException.ThrowIfNull(writer);
        writer.WriteNumberValue(value.Si);
    }
}
