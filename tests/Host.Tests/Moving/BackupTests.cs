using System.IO.Compression;
using System.Security.Cryptography;
using Microsoft.Data.Sqlite;
using Vanehour.Fleet.Runs;
using Vanehour.Host.Composition;

namespace Vanehour.Host.Tests.Moving;

public sealed class BackupTests : IDisposable
{
    private static readonly string[][] Listings =
        [["trucks", "--json"], ["rejects", "--json"], ["export", "samples"], ["export", "runs"]];

    private readonly CommandLine cli = new();

    private string Restored => Path.Combine(cli.Folder, "restored");

    public void Dispose() => cli.Dispose();

    [Theory]
    [InlineData("copy.zip")]
    [InlineData("copy")]
    public async Task WhatIsRestoredListsAsItDid(string name)
    {
        await FillAsync();
        await File.WriteAllTextAsync(Path.Combine(cli.Data, "vanehour.json"), """{ "Display": { "Units": "Si" } }""");
        var target = Path.Combine(cli.Folder, "backups", name);
        await DoneAsync("1 trucks, 0 service records, 0 runs, 2000 samples", "backup", "--to", target);
        await DoneAsync("1 trucks, 0 service records, 0 runs, 2000 samples", "restore", "--from", target, "--data", Restored);
        foreach (var listing in Listings)
        {
            Assert.Equal(await DoneAsync("", listing), await DoneAsync("", [.. listing, "--data", Restored]));
        }

        Assert.Equal(await File.ReadAllTextAsync(Path.Combine(cli.Data, "vanehour.json")), await File.ReadAllTextAsync(Path.Combine(Restored, "vanehour.json")));
        await FailsAsync("is there already", "backup", "--to", target);
        Assert.Equal([name], Directory.GetFileSystemEntries(Path.Combine(cli.Folder, "backups")).Select(Path.GetFileName));
    }

    [Fact]
    public async Task ACopyMadeWhileAWorkerWritesIsWholeAndOfOneInstant()
    {
        await FillAsync();
        using var stop = new CancellationTokenSource();
        var isWriting = new TaskCompletionSource();
        var writing = Task.Run(() => WriteAsync(isWriting, stop.Token));
        await isWriting.Task;
        for (var i = 0; i < 5; i++)
        {
            var target = Path.Combine(cli.Folder, $"copy{i}");
            var folder = Path.Combine(cli.Folder, $"restored{i}");
            await DoneAsync("", "backup", "--to", target);
            await DoneAsync("", "restore", "--from", target, "--data", folder);
            using var data = DataFolder.Open(folder);
            var samples = await Gateway.ReadAsync(data.Samples, "W1");
            var settled = data.Runs.SettledAt("W1")?.ToUnixTimeMilliseconds() ?? 0;

            // Batches of 100 are stored whole, and each is followed by its number in the other database: of one instant, the numbers are at most one apart.
            Assert.Equal(0, samples.Count % 100);
            Assert.Equal(samples.Count, (await data.Samples.TrucksAsync(default)).Single(t => t.Truck == "W1").Samples);
            Assert.InRange((samples.Count / 100) - settled, 0, 1);
        }

        await stop.CancelAsync();
        Assert.True(await writing > 5, "The writer stood still.");
    }

    [Fact]
    public async Task AFolderThatHoldsSomethingIsReplacedOnlyWithForceAndKeptAside()
    {
        await FillAsync();
        var backup = Path.Combine(cli.Folder, "copy");
        await DoneAsync("", "backup", "--to", backup);
        await Gateway.StoreAsync(Restored, Gateway.Of("OLD", 7));
        Directory.CreateDirectory(Path.Combine(Restored, "reports"));
        await FailsAsync("is not empty", "restore", "--from", backup, "--data", Restored);
        Assert.Equal(7, await Gateway.CountAsync(Restored));
        var output = await DoneAsync("is kept in", "restore", "--from", backup, "--data", Restored, "--force");
        Assert.Equal(2000, await Gateway.CountAsync(Restored));
        Assert.True(Directory.Exists(Path.Combine(Restored, "reports")));
        var aside = Assert.Single(Directory.GetDirectories(Restored, "before-restore-*"));
        Assert.Contains(aside, output, StringComparison.Ordinal);
        Assert.Equal(7, await Gateway.CountAsync(aside));
    }

    [Fact]
    public async Task AFolderInUseIsNotReplaced()
    {
        await FillAsync();
        var backup = Path.Combine(cli.Folder, "copy");
        await DoneAsync("", "backup", "--to", backup);
        using (var worker = DataFolder.Open(cli.Data))
        {
            await worker.Samples.WriteAsync(Gateway.Of("T1", 1, first: 5000), default);
            await FailsAsync("is in use by another program", "restore", "--from", backup, "--force");
            await worker.Samples.WriteAsync(Gateway.Of("T1", 1, first: 5001), default);
        }

        Assert.Equal(2002, await Gateway.CountAsync(cli.Data));
        await DoneAsync("", "restore", "--from", backup, "--force");
        Assert.Equal(2000, await Gateway.CountAsync(cli.Data));
    }

    [Fact]
    public async Task ADamagedBackupReplacesNothing()
    {
        await FillAsync();
        var backup = Path.Combine(cli.Folder, "copy");
        await DoneAsync("", "backup", "--to", backup);
        await Gateway.StoreAsync(Restored, Gateway.Of("OLD", 7));
        var samples = Path.Combine(backup, "samples.db");
        var good = await File.ReadAllBytesAsync(samples);
        var manifest = Path.Combine(backup, "vanehour-backup.json");
        var goodManifest = await File.ReadAllTextAsync(manifest);

        // One bit, in a page of the sample table.
        var bad = (byte[])good.Clone();
        bad[good.Length / 2] ^= 1;
        await File.WriteAllBytesAsync(samples, bad);
        await RefusedAsync("samples.db in");

        // Damage that the checksum does not know of: the database's own check and the counts have to see it.
        bad = (byte[])good.Clone();
        Array.Clear(bad, good.Length / 2, 4096);
        await File.WriteAllBytesAsync(samples, bad);
        await File.WriteAllTextAsync(manifest, goodManifest.Replace(Hash(good), Hash(bad), StringComparison.Ordinal));
        await RefusedAsync("is damaged");

        await File.WriteAllBytesAsync(samples, good);
        await File.WriteAllTextAsync(manifest, goodManifest.Replace("\"sample\": 2000", "\"sample\": 1999", StringComparison.Ordinal));
        await RefusedAsync("do not have the rows");

        await File.WriteAllTextAsync(manifest, goodManifest.Replace("\"fleet.db\"", "\"../fleet.db\"", StringComparison.Ordinal));
        await RefusedAsync("names a file that no backup holds");

        await File.WriteAllTextAsync(manifest, goodManifest.Replace("\"format\": 1", "\"format\": 2", StringComparison.Ordinal));
        await RefusedAsync("another kind of backup");

        File.Delete(manifest);
        await RefusedAsync("is no Vanehour backup");

        async Task RefusedAsync(string sentence)
        {
            await FailsAsync(sentence, "restore", "--from", backup, "--data", Restored, "--force");
            Assert.Equal(7, await Gateway.CountAsync(Restored));
            Assert.Empty(Directory.GetDirectories(Restored));
        }
    }

    [Fact]
    public async Task AnArchiveThatIsCutShortOrHoldsOtherFilesIsRefused()
    {
        await FillAsync();
        var backup = Path.Combine(cli.Folder, "copy.zip");
        await DoneAsync("", "backup", "--to", backup);
        var bytes = await File.ReadAllBytesAsync(backup);
        await File.WriteAllBytesAsync(backup, bytes[..(bytes.Length / 2)]);
        await FailsAsync("is no backup, or a damaged one", "restore", "--from", backup, "--data", Restored);
        File.Delete(backup);
        await using (var archive = await ZipFile.OpenAsync(backup, ZipArchiveMode.Create))
        {
            await using var entry = await archive.CreateEntry("../escaped.txt").OpenAsync();
            entry.WriteByte(1);
        }

        await FailsAsync("is no Vanehour backup", "restore", "--from", backup, "--data", Restored);
        Assert.False(File.Exists(Path.Combine(cli.Folder, "escaped.txt")));
        await FailsAsync("There is no backup", "restore", "--from", backup + "x", "--data", Restored);
    }

    [Fact]
    public async Task AFolderWhoseRestoreWasCutShortIsNotOpenedUntilItIsRestored()
    {
        await FillAsync();
        var backup = Path.Combine(cli.Folder, "copy");
        await DoneAsync("", "backup", "--to", backup);
        await File.WriteAllTextAsync(Path.Combine(cli.Data, "restore-unfinished"), "");
        SqliteConnection.ClearAllPools();
        File.Delete(Path.Combine(cli.Data, "samples.db"));
        await FailsAsync("was cut short", "trucks");
        await FailsAsync("was cut short", "import", cli.File("x.csv", "truck,time,pto\n"));
        Assert.False(File.Exists(Path.Combine(cli.Data, "samples.db")));
        await DoneAsync("", "restore", "--from", backup, "--force");
        Assert.Equal(2000, await Gateway.CountAsync(cli.Data));
    }

    private static string Hash(byte[] bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));

    private async Task FillAsync()
    {
        await DoneAsync("", "import", cli.File("pump-models.csv", Register.Models), cli.File("trucks.csv", Register.Trucks));
        await Gateway.StoreAsync(cli.Data, Gateway.Of("T1", 2000));
    }

    private async Task<int> WriteAsync(TaskCompletionSource isWriting, CancellationToken stop)
    {
        using var data = DataFolder.Open(cli.Data);
        var batch = 0;
        while (!stop.IsCancellationRequested)
        {
            await data.Samples.WriteAsync(Gateway.Of("W1", 100, first: batch * 100), default);
            batch++;
            data.Runs.Replace("W1", DateTimeOffset.UnixEpoch, Array.Empty<Run>(), DateTimeOffset.FromUnixTimeMilliseconds(batch));
            isWriting.TrySetResult();
        }

        return batch;
    }

    private async Task<string> DoneAsync(string sentence, params string[] args)
    {
        var (code, output, error) = await cli.RunAsync(args);
        Assert.True(code == ExitCode.Done, error);
        Assert.Contains(sentence, output, StringComparison.Ordinal);
        return output;
    }

    private async Task FailsAsync(string sentence, params string[] args)
    {
        var (code, _, error) = await cli.RunAsync(args);
        Assert.True(code == ExitCode.Failed, $"code {code}: {error}");
        Assert.Contains(sentence, error, StringComparison.Ordinal);
        Assert.DoesNotContain("Exception", error, StringComparison.Ordinal);
    }
}
