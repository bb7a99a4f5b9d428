using System.Diagnostics;
using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;

namespace Vanehour.Host.Serving;

/// <summary>
/// The client id by which a broker knows the worker of a data folder, unless the settings name one: drawn once and kept in the folder, so that it stays the
/// same in a container that is made anew and differs between folders on one machine. It is no part of a backup: a restored copy is another worker.
/// </summary>
public static partial class WorkerId
{
    /// <summary>The file that keeps it.</summary>
    public const string FileName = "worker-id";

    private const int IdBytes = 4;
    private const int ShareDigits = 4;
    private static readonly TimeSpan LockWait = TimeSpan.FromSeconds(10);
    private static readonly TimeSpan LockRetry = TimeSpan.FromMilliseconds(5);

    /// <summary>The id, made where there is none yet. At most 22 characters, which every broker takes.</summary>
    /// <param name="folder">The data folder; it exists.</param>
    /// <param name="shareName">The share, or null. It has a session of its own: the broker would go on sending what the other kind of session subscribed to.</param>
    /// <exception cref="CommandFailedException">The file cannot be read or made, or holds something else.</exception>
    public static string Of(string folder, string? shareName)
    {
        var file = Path.Combine(folder, FileName);
        try
        {
            if (!File.Exists(file))
            {
                Make(folder, file);
            }

            var id = File.ReadAllText(file).Trim();
            if (!Shape().IsMatch(id))
            {
                throw new CommandFailedException(
                    $"{file} does not hold the client id that it should ('vanehour-' and eight digits or letters a to f). Put it back from where it was, or delete the file: a new id is drawn then, and what the broker still keeps under the old one does not arrive.");
            }

            return string.IsNullOrEmpty(shareName)
                ? id
                : $"{id}-{Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(shareName)))[..ShareDigits]}";
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new CommandFailedException($"The worker's client id cannot be kept in {file}: {e.Message} Set Ingest:ClientId, or let the folder be written to.");
        }
    }

    // Of workers that start at once one makes it, under a lock; it gets its name only when it is whole. The lock is deleted after that: whoever holds
    // what was deleted, or makes a new one, finds the id.
    private static void Make(string folder, string file)
    {
        var lockFile = Path.Combine(folder, $"{FileName}.lock");
        using (Lock(lockFile, file))
        {
            if (!File.Exists(file))
            {
                var part = Path.Combine(folder, $"{FileName}.part");
                using (var stream = new FileStream(part, FileMode.Create, FileAccess.Write))
                {
                    stream.Write(Encoding.ASCII.GetBytes($"vanehour-{RandomNumberGenerator.GetHexString(2 * IdBytes, lowercase: true)}\n"));
                    stream.Flush(flushToDisk: true);
                }

                File.Move(part, file, overwrite: false);
            }
        }

        File.Delete(lockFile);
    }

    // Null when another worker has made the id meanwhile.
    private static FileStream? Lock(string lockFile, string file)
    {
        using var never = new ManualResetEventSlim();
        var clock = Stopwatch.StartNew();
        while (true)
        {
            try
            {
                return new FileStream(lockFile, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
            }
            catch (IOException) when (File.Exists(file))
            {
                return null;
            }
            catch (IOException) when (clock.Elapsed < LockWait)
            {
                never.Wait(LockRetry);
            }
        }
    }

    [GeneratedRegex("^vanehour-[0-9a-f]{8}$")]
    private static partial Regex Shape();
}
