using System.Security.Cryptography;
using System.Text.Json;

namespace Vanehour.Simulator.Publishing;

/// <summary>Keeps how far a fleet has been published, so that a later start goes on from there. The file is always whole: it is written beside and put in place.</summary>
internal sealed class ResumeFile
{
    private static readonly TimeSpan SaveEvery = TimeSpan.FromSeconds(3);

    private readonly string path;
    private readonly string fingerprint;
    private readonly AcknowledgedPrefix acknowledged;
    private long saved = -1;

    private ResumeFile(string path, string fingerprint, long done)
    {
        this.path = path;
        this.fingerprint = fingerprint;
        Done = done;
        acknowledged = new AcknowledgedPrefix(done);
    }

    /// <summary>How many messages earlier starts have published.</summary>
    public long Done { get; }

    /// <summary>Reads the file, or begins anew where there is none.</summary>
    /// <exception cref="PublishFailedException">It belongs to another fleet, or cannot be understood.</exception>
    public static ResumeFile Open(string path, SimulatedFleet fleet)
    {
        var fingerprint = Fingerprint(fleet);
        if (!File.Exists(path))
        {
            return new ResumeFile(path, fingerprint, 0);
        }

        ResumeState? state;
        try
        {
            state = JsonSerializer.Deserialize(File.ReadAllBytes(path), ResumeJson.Default.ResumeState);
        }
        catch (JsonException e)
        {
            throw Unreadable(e);
        }

        if (state is not { Acknowledged: >= 0 })
        {
            throw Unreadable(null);
        }

        return state.Fingerprint == fingerprint
            ? new ResumeFile(path, fingerprint, state.Acknowledged)
            : throw new PublishFailedException(
                PublishFailure.ResumeRefused,
                $"The resume file {path} belongs to another simulated fleet; give the options of the first start, or another file.");

        PublishFailedException Unreadable(Exception? inner) => new(
            PublishFailure.ResumeRefused, $"The resume file {path} cannot be understood; delete it to publish from the beginning.", inner);
    }

    /// <summary>A message was acknowledged; safe for several threads.</summary>
    public void Acknowledge(long number) => acknowledged.Add(number);

    /// <summary>Saves every few seconds until cancelled.</summary>
    public async Task KeepAsync(TimeProvider time, CancellationToken cancellationToken)
    {
        using var timer = new PeriodicTimer(SaveEvery, time);
        while (await timer.WaitForNextTickAsync(cancellationToken).ConfigureAwait(false))
        {
            Save();
        }
    }

    /// <summary>Writes what is acknowledged by now, where that is more than was written last.</summary>
    /// <exception cref="IOException">The file cannot be written.</exception>
    public void Save()
    {
        var count = acknowledged.Count;
        if (count == saved)
        {
            return;
        }

        var beside = path + ".new";
        using (var stream = new FileStream(beside, FileMode.Create, FileAccess.Write))
        {
            JsonSerializer.Serialize(stream, new ResumeState(fingerprint, count), ResumeJson.Default.ResumeState);
            stream.Flush(flushToDisk: true);
        }

        File.Move(beside, path, overwrite: true);
        saved = count;
    }

    // Every option counts, also one that is added later; where the messages go does not.
    private static string Fingerprint(SimulatedFleet fleet) =>
        Convert.ToHexString(SHA256.HashData(JsonSerializer.SerializeToUtf8Bytes(fleet.Options, ResumeJson.Default.SimulationOptions)));
}
