using System.Globalization;

namespace Vanehour.Bench.Faults.Workers;

/// <summary>A file system of a few megabytes in memory (tmpfs), so that a disk can be filled without filling the machine's.</summary>
internal sealed class SmallDisk : IAsyncDisposable
{
    private readonly string ballast;

    private SmallDisk(string folder)
    {
        Folder = folder;
        ballast = Path.Combine(folder, "ballast");
    }

    public string Folder { get; }

    /// <summary>Mounts one.</summary>
    /// <param name="megabytes">Its size.</param>
    /// <returns>The disk, or null with the reason why not.</returns>
    public static async Task<(SmallDisk? Disk, string Reason)> TryMountAsync(int megabytes)
    {
        var folder = Directory.CreateTempSubdirectory("vanehour-disk-").FullName;
        try
        {
            await using var mount = ChildProcess.Start(
                "mount", ["-t", "tmpfs", "-o", string.Create(CultureInfo.InvariantCulture, $"size={megabytes}m"), "tmpfs", folder]);
            await mount.WaitAsync(TimeSpan.FromSeconds(60));
            if (mount.ExitCode == 0)
            {
                return (new SmallDisk(folder), "");
            }

            Directory.Delete(folder);
            return (null, "a small file system cannot be mounted here (" + string.Join(' ', mount.Lines) + ").");
        }
        catch (System.ComponentModel.Win32Exception e)
        {
            Directory.Delete(folder);
            return (null, $"a small file system cannot be mounted here ({e.Message}).");
        }
    }

    /// <summary>Takes all the space that is left.</summary>
    public void Fill()
    {
        using var file = new FileStream(ballast, FileMode.Append, FileAccess.Write, FileShare.None, bufferSize: 0);
        var block = new byte[4096];
        try
        {
            while (true)
            {
                file.Write(block);
            }
        }
        catch (IOException)
        {
            // That was the last of it.
        }
    }

    /// <summary>Gives the space back.</summary>
    public void Free() => File.Delete(ballast);

    /// <summary>Makes it read-only or writable. The kernel refuses while a file on it is open for writing.</summary>
    /// <returns>Whether it worked.</returns>
    public async Task<bool> RemountAsync(bool readOnly)
    {
        await using var mount = ChildProcess.Start("mount", ["-o", readOnly ? "remount,ro" : "remount,rw", Folder]);
        await mount.WaitAsync(TimeSpan.FromSeconds(60));
        return mount.ExitCode == 0;
    }

    public async ValueTask DisposeAsync()
    {
        await using var unmount = ChildProcess.Start("umount", [Folder]);
        await unmount.WaitAsync(TimeSpan.FromSeconds(60));
        Directory.Delete(Folder);
    }
}
