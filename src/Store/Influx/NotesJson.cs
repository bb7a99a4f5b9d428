using System.Text.Json;
using System.Text.Json.Serialization;

namespace Vanehour.Store.Influx;

/// <summary>The JSON of notes.</summary>
[JsonSourceGenerationOptions(JsonSerializerDefaults.General, WriteIndented = false)]
[JsonSerializable(typeof(List<ForwardedTruck>))]
internal sealed partial class NotesJson : JsonSerializerContext;
