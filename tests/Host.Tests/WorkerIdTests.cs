using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Options;
using Vanehour.Host.Composition;
using Vanehour.Host.Serving;
using Vanehour.Ingest;

namespace Vanehour.Host.Tests;

/// <summary>The client id that a worker goes by when nobody named one.</summary>
public sealed class WorkerIdTests : IDisposable
{
    private readonly CommandLine cli = new();

    public void Dispose() => cli.Dispose();

    [Fact]
    public void AFolderKeepsItsId_AndNoTwoFoldersShareOne()
    {
        var first = Id("one");
        Assert.Matches("^vanehour-[0-9a-f]{8}$", first);
        Assert.Equal(first, Id("one"));
        Assert.NotEqual(first, Id("two"));
    }

    [Fact]
    public void AShareHasASessionOfItsOwn_AndAnIdThatEveryBrokerTakes()
    {
        var ids = new[] { Id("one"), Id("one", o => o.ShareName = "night"), Id("one", o => o.ShareName = "day") };
        Assert.Equal(3, ids.Distinct().Count());
        Assert.All(ids, id => Assert.InRange(id.Length, 1, 23));
        Assert.Equal(ids[1], Id("one", o => o.ShareName = "night"));
    }

    [Fact]
    public void WhatIsNamed_Counts()
    {
        Assert.Equal("mine", Id("one", o => o.ClientId = "mine"));
        Assert.Equal("set", Id("one", settings: new ConfigurationBuilder().AddInMemoryCollection([KeyValuePair.Create<string, string?>("Ingest:ClientId", "set")]).Build()));
        Assert.False(File.Exists(Path.Combine(cli.Folder, "one", "worker-id")));
    }

    [Fact]
    public void WorkersThatStartAtOnce_AgreeOnOne()
    {
        // Many times, because the moment between looking and making is short.
        for (var round = 0; round < 50; round++)
        {
            var folder = Directory.CreateDirectory(Path.Combine(cli.Folder, $"busy{round}")).FullName;
            var ids = new string[8];
            using var together = new Barrier(ids.Length);
            var workers = Enumerable.Range(0, ids.Length).Select(i => new Thread(() =>
            {
                together.SignalAndWait();
                ids[i] = WorkerId.Of(folder, null);
            })).ToList();
            workers.ForEach(w => w.Start());
            workers.ForEach(w => w.Join());
            Assert.Single(ids.Distinct());
            Assert.Equal(["worker-id"], Directory.GetFiles(folder).Select(Path.GetFileName));
        }
    }

    [Theory]
    [InlineData("")]
    [InlineData("somebody else")]
    public async Task ADamagedFile_IsNotReplacedWithoutAWord(string content)
    {
        Directory.CreateDirectory(cli.Data);
        var file = Path.Combine(cli.Data, "worker-id");
        await File.WriteAllTextAsync(file, content);

        var (code, _, error) = await cli.RunAsync("ingest", "--broker", "mqtt://127.0.0.1:9");

        Assert.Equal(ExitCode.Failed, code);
        Assert.Contains("delete the file", error, StringComparison.Ordinal);
        Assert.DoesNotContain("Exception", error, StringComparison.Ordinal);
        Assert.Equal(content, await File.ReadAllTextAsync(file));
    }

    [Fact]
    public async Task ARestoredFolder_IsAnotherWorker()
    {
        var id = WorkerId.Of(Directory.CreateDirectory(cli.Data).FullName, null);
        using (DataFolder.Open(cli.Data))
        {
        }

        var (backup, restored) = (Path.Combine(cli.Folder, "backup.zip"), Path.Combine(cli.Folder, "restored"));
        Assert.Equal(ExitCode.Done, (await cli.RunAsync("backup", "--to", backup)).Code);
        Assert.Equal(ExitCode.Done, (await cli.RunAsync("restore", "--from", backup, "--data", restored)).Code);
        Assert.NotEqual(id, WorkerId.Of(restored, null));
        Assert.Equal(id, WorkerId.Of(cli.Data, null));
    }

    [Theory]
    [InlineData("ingest")]
    [InlineData("serve")]
    public async Task TheCommandLine_NamesIt(string command)
    {
        var (code, _, error) = await cli.RunAsync(command, "--client-id", " ");
        Assert.Equal(ExitCode.WrongUsage, code);
        Assert.Contains("--client-id", error, StringComparison.Ordinal);
        Assert.Equal(ExitCode.Done, (await cli.RunAsync(command, "--help")).Code);
    }

    private string Id(string folder, Action<IngestOptions>? configure = null, IConfiguration? settings = null)
    {
        using var data = DataFolder.Open(Path.Combine(cli.Folder, folder));
        using var host = WorkerHost.Build(data, settings ?? new ConfigurationBuilder().Build(), configure ?? (_ => { }), TimeProvider.System);
        return host.Services.GetRequiredService<IOptions<IngestOptions>>().Value.EffectiveClientId;
    }
}
