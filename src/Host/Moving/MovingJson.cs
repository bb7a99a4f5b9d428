using System.Text.Json.Serialization;

namespace Vanehour.Host.Moving;

/// <summary>How the progress of a copy and a backup's manifest are written.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower,
    WriteIndented = true,
    UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
    AllowDuplicateProperties = false,
    RespectNullableAnnotations = true,
    RespectRequiredConstructorParameters = true)]
[JsonSerializable(typeof(CopyState))]
[JsonSerializable(typeof(BackupManifest))]
internal sealed partial class MovingJson : JsonSerializerContext;
