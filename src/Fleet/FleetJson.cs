using System.Text.Json.Serialization;

namespace Vanehour.Fleet;

/// <summary>How the register's nouns are written as JSON: snake_case names, enum names as strings, quantities as SI numbers, nothing for null.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower,
    UseStringEnumConverter = true,
    DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull)]
[JsonSerializable(typeof(PumpModel))]
[JsonSerializable(typeof(Truck))]
[JsonSerializable(typeof(ServiceRecord))]
public sealed partial class FleetJson : JsonSerializerContext;
