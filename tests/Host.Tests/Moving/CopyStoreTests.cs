using System.Text.Json;
using Vanehour.Fleet;
using Vanehour.Host.Composition;
using Vanehour.Host.Moving;
using Vanehour.Store;

namespace Vanehour.Host.Tests.Moving;

public sealed class CopyStoreTests : IDisposable
{
    private readonly CommandLine cli = new();

    private static IProgress<double> Nobody => new Progress<double>();

    private string Old => Path.Combine(cli.Folder, "old");

    private string New => Path.Combine(cli.Folder, "new");

    public void Dispose() => cli.Dispose();

    [Fact]
    public async Task EverySampleIsCopiedAndBothEndsCompared()
    {
        await Gateway.StoreAsync(Old, Gateway.Of("T1", 45_000), Gateway.Of("T2", 10));

        // A target that already takes in the feed holds later samples of the same truck; they are none of the copy's business.
        await Gateway.StoreAsync(New, Gateway.Of("T1", 100, first: 45_000), Gateway.Of("T1", 3));
        var (code, output, error) = await CopyAsync("--json");
        Assert.True(code == ExitCode.Done, error);
        var trucks = JsonDocument.Parse(output).RootElement.EnumerateArray().ToList();
        Assert.Equal(["T1", "T2"], trucks.Select(t => t.GetProperty("truck").GetString()));
        Assert.Equal([45_000, 10], trucks.Select(t => t.GetProperty("to_samples").GetInt32()));
        Assert.All(trucks, t => Assert.True(t.GetProperty("same").GetBoolean()));
        Assert.All(trucks, t => Assert.Equal(64, t.GetProperty("from_checksum").GetString()!.Length));
        Assert.Equal(await Gateway.ReadAsync(Old, "T2"), await Gateway.ReadAsync(New, "T2"));
        Assert.Equal(45_100, (await Gateway.ReadAsync(New, "T1")).Count);
        Assert.False(File.Exists(Path.Combine(New, CopyProgressFile.Name)));
        (code, _, error) = await CopyAsync();
        Assert.True(code == ExitCode.Done, error);
        Assert.Equal(45_110, await Gateway.CountAsync(New));
    }

    [Fact]
    public async Task ACopyThatWasCutShortGoesOnWhereItWas()
    {
        await Gateway.StoreAsync(Old, Gateway.Of("T1", 30_000), Gateway.Of("T2", 70_000), Gateway.Of("T3", 5));
        using var from = DataFolder.Open(Old);
        using var to = DataFolder.Open(New);
        var source = new FlakyStore(from.Samples);
        var target = new FlakyStore(to.Samples) { WritesLeft = 4 };
        await Assert.ThrowsAsync<StoreUnavailableException>(() => RunAsync(source, target));
        Assert.True(File.Exists(Path.Combine(New, CopyProgressFile.Name)));

        target.WritesLeft = int.MaxValue;
        var readBefore = source.SamplesRead;
        var written = await RunAsync(source, target);

        // Two batches of each of the first two trucks were durable: what is left is 70 000 - 40 000 of T2, and T3.
        Assert.Equal(30_005, written);
        Assert.Equal(30_005, source.SamplesRead - readBefore);
        foreach (var truck in new[] { "T1", "T2", "T3" })
        {
            Assert.Equal(await Gateway.ReadAsync(Old, truck), await Gateway.ReadAsync(New, truck));
        }
    }

    [Fact]
    public async Task WhatArrivesWhileItIsCopiedIsFoundByTheComparisonAndCopiedThen()
    {
        await Gateway.StoreAsync(Old, [Gateway.At("T1", 0), .. Gateway.Of("T1", 30_000, first: 2)], Gateway.Of("T2", 5));
        using var from = DataFolder.Open(Old);
        using var to = DataFolder.Open(New);
        var copy = new StoreCopy(from.Samples, to.Samples, CopyProgressFile.Open(New, "a", "b"));
        var trucks = await copy.TrucksAsync(default);
        await copy.CopyAsync(trucks, Nobody, default);
        await from.Samples.WriteAsync([Gateway.At("T1", 1)], default);
        Assert.Equal([false, true], (await copy.VerifyAsync(trucks, Nobody, default)).Select(t => t.Same));
        Assert.Equal(30_002, await copy.CopyAsync(trucks, Nobody, default));
        Assert.All(await copy.VerifyAsync(trucks, Nobody, default), t => Assert.True(t.Same));
    }

    [Fact]
    public async Task AValueThatDiffersIsFoundThoughTheCountsAgree()
    {
        await Gateway.StoreAsync(Old, Gateway.Of("T1", 100));
        await Gateway.StoreAsync(New, Gateway.Of("T1", 100));
        var values = SignalValues.Empty;
        values.Set(Signal.OilLevel, 1e-300);
        await Gateway.StoreAsync(New, [Gateway.At("T1", 50) with { Values = values }]);
        var (code, output, error) = await CopyAsync("--csv");
        Assert.Equal(ExitCode.Failed, code);
        Assert.Contains("T1,100,100,", output, StringComparison.Ordinal);
        Assert.Contains("1 of 1 trucks differ between source and target (T1)", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task WhatCannotBeCopiedIsOneSentence()
    {
        await Gateway.StoreAsync(Old, Gateway.Of("T1", 1));
        await FailsAsync(ExitCode.Failed, "are the same store", "copy-store", "--from", "sqlite", "--to", "sqlite", "--data", Old);
        await FailsAsync(ExitCode.Failed, "There is no Vanehour data in", "copy-store", "--from", "sqlite", "--from-data", New + "x", "--to", "sqlite", "--to-data", Old);
        await FailsAsync(ExitCode.WrongUsage, "--to", "copy-store", "--from", "sqlite");
        await FailsAsync(ExitCode.WrongUsage, "tape", "copy-store", "--from", "sqlite", "--to", "tape");
    }

    private async Task<long> RunAsync(FlakyStore source, FlakyStore target)
    {
        // Opened anew each time, as a new process does.
        var copy = new StoreCopy(source, target, CopyProgressFile.Open(New, "old", "new"));
        return await copy.CopyAsync(await copy.TrucksAsync(default), Nobody, default);
    }

    private async Task FailsAsync(int expected, string sentence, params string[] args)
    {
        var (code, _, error) = await cli.RunAsync(args);
        Assert.Equal(expected, code);
        Assert.Contains(sentence, error, StringComparison.Ordinal);
        Assert.DoesNotContain("Exception", error, StringComparison.Ordinal);
    }

    private Task<(int Code, string Out, string Error)> CopyAsync(params string[] more) =>
        cli.RunAsync(["copy-store", "--from", "sqlite", "--from-data", Old, "--to", "sqlite", "--to-data", New, .. more]);
}
