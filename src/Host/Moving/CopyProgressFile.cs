using System.Text.Json;

namespace Vanehour.Host.Moving;

/// <summary>Keeps how far a copy between two stores has come in a small file beside the target, so that a killed copy goes on where it was.</summary>
public sealed class CopyProgressFile
{
    /// <summary>The file's name.</summary>
    public const string Name = "copy-store-progress.json";

    private readonly string path;
    private readonly CopyState state;

    private CopyProgressFile(string path, CopyState state)
    {
        this.path = path;
        this.state = state;
    }

    /// <summary>Opens the progress of a copy; one of other stores counts as none.</summary>
    /// <param name="folder">The folder of the file.</param>
    /// <param name="from">What names the source.</param>
    /// <param name="to">What names the target.</param>
    public static CopyProgressFile Open(string folder, string from, string to)
    {
        var path = Path.Combine(folder, Name);
        CopyState? held = null;
        if (File.Exists(path))
        {
            try
            {
                held = JsonSerializer.Deserialize(File.ReadAllBytes(path), MovingJson.Default.CopyState);
            }
            catch (JsonException)
            {
                // Copying again from the start is always right, only longer.
            }
        }

        return new CopyProgressFile(path, held is not null && held.From == from && held.To == to ? held : new CopyState(from, to, []));
    }

    /// <summary>The first instant of a truck that is not copied yet, Unix ms, or null where none is.</summary>
    public long? NextMs(string truck) => state.NextMs.TryGetValue(truck, out var next) ? next : null;

    /// <summary>Notes that everything of a truck before an instant is durable at the target.</summary>
    public void Save(string truck, long nextMs)
    {
        state.NextMs[truck] = nextMs;
        Write();
    }

    /// <summary>Forgets a truck: it will be copied from its start.</summary>
    public void Forget(string truck)
    {
        if (state.NextMs.Remove(truck))
        {
            Write();
        }
    }

    /// <summary>The copy is done and verified.</summary>
    public void Delete() => File.Delete(path);

    private void Write()
    {
        var part = path + ".part";
        File.WriteAllBytes(part, JsonSerializer.SerializeToUtf8Bytes(state, MovingJson.Default.CopyState));
        File.Move(part, path, overwrite: true);
    }
}
