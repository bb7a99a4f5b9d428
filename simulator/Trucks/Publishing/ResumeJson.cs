using System.Text.Json.Serialization;

namespace Vanehour.Simulator.Publishing;

[JsonSourceGenerationOptions(UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow, AllowDuplicateProperties = false)]
[JsonSerializable(typeof(ResumeState))]
[JsonSerializable(typeof(SimulationOptions))]
internal sealed partial class ResumeJson : JsonSerializerContext;
