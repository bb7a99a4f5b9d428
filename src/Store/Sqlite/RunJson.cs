using System.Text.Json.Serialization;
using Vanehour.Fleet.Runs;

namespace Vanehour.Store.Sqlite;

/// <summary>How a run is written down: snake_case names, enums by name, instants UTC to the millisecond, what was not measured left out.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower,
    DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
    IgnoreReadOnlyProperties = true,
    UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
    AllowDuplicateProperties = false,
    UseStringEnumConverter = true,
    Converters = [typeof(UtcMillisecondConverter)])]
[JsonSerializable(typeof(Run))]
internal sealed partial class RunJson : JsonSerializerContext;
