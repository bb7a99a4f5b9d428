using System.Text.Json.Serialization;

namespace Vanehour.Host.Demo;

/// <summary>How the demo's settings are written as JSON.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower, WriteIndented = true)]
[JsonSerializable(typeof(DemoSettings))]
internal sealed partial class DemoJson : JsonSerializerContext;
