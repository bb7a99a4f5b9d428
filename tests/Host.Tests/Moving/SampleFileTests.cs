using System.Text;
using Vanehour.Fleet;

namespace Vanehour.Host.Tests.Moving;

public sealed class SampleFileTests : IDisposable
{
    private const string Good = "truck,time,vacuum_inhg,pto\nT1,2026-01-02T08:00:00Z,16.2,1\nT1,2026-01-02T08:00:10Z,16.4,\nT2,1767340800,0,0\n";

    private readonly CommandLine cli = new();

    public void Dispose() => cli.Dispose();

    [Fact]
    public async Task ASampleFileIsImportedAndTwiceChangesNothing()
    {
        var file = cli.File("samples.csv", Good);
        var (code, output, error) = await cli.RunAsync("import", file);
        Assert.True(code == ExitCode.Done, error);
        Assert.Equal("samples.csv: 3 rows read, 3 samples stored, 3 added, 0 changed.\n", output);
        Assert.Contains("not registered: T1, T2", error, StringComparison.Ordinal);
        Assert.Equal(16.2 * 3.386389, (await Gateway.ReadAsync(cli.Data, "T1"))[0][Signal.Vacuum]!.Value, 1e-5); // NIST SP 811.
        (_, output, _) = await cli.RunAsync("import", file);
        Assert.Equal("samples.csv: 3 rows read, 3 samples stored, 0 added, 0 changed.\n", output);
        (_, output, _) = await cli.RunAsync("import", cli.File("more.csv", "truck,time,vacuum_inhg,pto\nT1,1767340800,16.3,\nT1,1767340820,1,1\nT1,1767340830,,\n"));
        Assert.Equal("more.csv: 3 rows read, 2 samples stored, 1 added, 1 changed, 1 rows without a value.\n", output);
        Assert.Equal(4, await Gateway.CountAsync(cli.Data));
        Assert.Equal(1, (await Gateway.ReadAsync(cli.Data, "T1"))[0][Signal.Pto]);
    }

    [Fact]
    public async Task NothingOfAFileWithABadRowIsStoredThoughItStandsAtTheEndOfALongOne()
    {
        var text = new StringBuilder("truck,time,vacuum_kpa\n");
        for (var i = 0; i < 45_000; i++)
        {
            text.Append("T1,").Append(1_767_340_800 + i).Append(",30\n");
        }

        var file = cli.File("samples.csv", text + "T1,1767440800,300\n");
        var (code, output, error) = await cli.RunAsync("import", file);
        Assert.Equal(ExitCode.Failed, code);
        Assert.Empty(output);
        Assert.Contains("samples.csv, line 45002, column vacuum_kpa: 300 kPa is outside vacuum's range", error, StringComparison.Ordinal);
        Assert.Contains("samples.csv: nothing imported.", error, StringComparison.Ordinal);
        Assert.Equal(0, await Gateway.CountAsync(cli.Data));

        (code, output, error) = await cli.RunAsync("import", file, "--skip-bad-rows");
        Assert.True(code == ExitCode.Done, error);
        Assert.Equal("samples.csv: 45001 rows read, 45000 samples stored, 45000 added, 0 changed, 1 bad rows skipped.\n", output);
        Assert.Contains("line 45002", error, StringComparison.Ordinal);
        Assert.Equal(45_000, await Gateway.CountAsync(cli.Data));
    }

    [Fact]
    public async Task AFileThatCannotBeReadToItsEndIsNotStoredInPart()
    {
        var (code, _, error) = await cli.RunAsync("import", "--skip-bad-rows", cli.File("samples.csv", Good + "T1,\"1767340900,1,1\n"));
        Assert.Equal(ExitCode.Failed, code);
        Assert.Contains("never closed", error, StringComparison.Ordinal);
        Assert.Equal(0, await Gateway.CountAsync(cli.Data));
    }

    [Fact]
    public async Task RegisterAndSamplesMayComeTogetherAndABadOneDoesNotStopTheOthers()
    {
        var (code, output, error) = await cli.RunAsync(
            "import", cli.File("samples.csv", Good), cli.File("bad.csv", "truck,time,colour\n"), cli.File("pump-models.csv", Register.Models), cli.File("trucks.csv", Register.Trucks));
        Assert.Equal(ExitCode.Failed, code);
        Assert.Contains("trucks.csv: 1 truck read, 1 added", output, StringComparison.Ordinal);
        Assert.Contains("samples.csv: 3 rows read", output, StringComparison.Ordinal);
        Assert.Contains("not registered: T2.", error, StringComparison.Ordinal);
        Assert.Contains("bad.csv, line 1, column colour", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task WhatIsExportedImportsIntoAnEmptyFolderAsTheSameSamples()
    {
        await Gateway.StoreAsync(cli.Data, Gateway.Of("T1", 30_000), Gateway.Of("T-2.x_", 500));
        var file = Path.Combine(cli.Folder, "samples.csv");
        var (code, output, error) = await cli.RunAsync("export", "samples", "--out", file);
        Assert.True(code == ExitCode.Done, error);
        Assert.Contains("30500 rows written", output, StringComparison.Ordinal);
        var other = Path.Combine(cli.Folder, "other");
        (code, _, error) = await cli.RunAsync("import", file, "--data", other);
        Assert.True(code == ExitCode.Done, error);
        foreach (var truck in new[] { "T1", "T-2.x_" })
        {
            var expected = await Gateway.ReadAsync(cli.Data, truck);
            Assert.NotEmpty(expected);
            Assert.Equal(expected, await Gateway.ReadAsync(other, truck));
        }

        (_, output, _) = await cli.RunAsync("export", "samples", "--data", other);
        Assert.Equal(await File.ReadAllTextAsync(file), output);
    }

    [Fact]
    public async Task AnExportKeepsToTrucksAndPeriod()
    {
        await Gateway.StoreAsync(cli.Data, Gateway.Of("T1", 100), Gateway.Of("T2", 100));
        var (_, output, _) = await cli.RunAsync("export", "samples", "T2", "--from", "2026-01-02T08:00:01.001Z", "--to", "2026-01-02T08:00:03.003Z");
        Assert.Equal(
            ["T2,2026-01-02T08:00:01.001Z", "T2,2026-01-02T08:00:02.002Z"],
            output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1).Select(l => string.Join(',', l.Split(',').Take(2))));
        var (code, _, error) = await cli.RunAsync("export", "samples", "T3", "--out", Path.Combine(cli.Folder, "none.csv"));
        Assert.Equal(ExitCode.Failed, code);
        Assert.Contains("Truck 'T3' is not registered and was never heard", error, StringComparison.Ordinal);
        Assert.Empty(Directory.GetFiles(cli.Folder, "none.csv*"));
    }

    [Fact]
    public async Task AListingIsExportedAsItIsListed()
    {
        await cli.RunAsync("import", cli.File("pump-models.csv", Register.Models), cli.File("trucks.csv", Register.Trucks), cli.File("samples.csv", Good));
        var (_, listed, _) = await cli.RunAsync("trucks", "--csv");
        var (code, exported, error) = await cli.RunAsync("export", "trucks");
        Assert.True(code == ExitCode.Done, error);
        Assert.Equal(listed, exported);
        Assert.Equal(3, listed.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
        (code, exported, error) = await cli.RunAsync("export", "runs");
        Assert.True(code == ExitCode.Done, error);
        Assert.StartsWith("truck,start,end,hours_h,", exported, StringComparison.Ordinal);
        (code, _, error) = await cli.RunAsync("export", "wear");
        Assert.Equal(ExitCode.Failed, code);
        Assert.Contains("run 'vanehour analyse' first", error, StringComparison.Ordinal);
    }
}
