using System.Text.Json;
using System.Text.Json.Serialization;

namespace Vanehour.Host.Health;

/// <summary>The worker's status as a small file in its data folder, so that another process can ask how it is doing without a port.</summary>
internal static partial class WorkerStatusFile
{
    /// <summary>The file's name.</summary>
    public const string Name = "worker-status.json";

    /// <summary>The last status in a folder; null where there is none or it cannot be read.</summary>
    public static WorkerStatus? Read(string folder)
    {
        try
        {
            return JsonSerializer.Deserialize(File.ReadAllBytes(Path.Combine(folder, Name)), StatusJson.Default.WorkerStatus);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException)
        {
            return null;
        }
    }

    /// <summary>Replaces the status.</summary>
    /// <exception cref="IOException">It cannot be written, for example because the disk is full.</exception>
    public static void Write(string folder, WorkerStatus status)
    {
        var part = Path.Combine(folder, Name + ".part");
        File.WriteAllBytes(part, JsonSerializer.SerializeToUtf8Bytes(status, StatusJson.Default.WorkerStatus));
        File.Move(part, Path.Combine(folder, Name), overwrite: true);
    }

    [JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower, WriteIndented = true)]
    [JsonSerializable(typeof(WorkerStatus))]
    private sealed partial class StatusJson : JsonSerializerContext;
}
