using System.Text.Json.Serialization;
using Vanehour.Models.Results;

namespace Vanehour.Scoring.Drills;

/// <summary>Drills as JSON: snake_case names, enums as their names, instants in UTC, unknown members refused.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower,
    UseStringEnumConverter = true,
    RespectNullableAnnotations = true,
    RespectRequiredConstructorParameters = true,
    UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
    WriteIndented = true,
    Converters = [typeof(UtcInstantConverter)])]
[JsonSerializable(typeof(DrillCases))]
[JsonSerializable(typeof(DrillInfo))]
[JsonSerializable(typeof(DrillTruth))]
[JsonSerializable(typeof(DrillReveal))]
public sealed partial class DrillsJson : JsonSerializerContext;
