using Vanehour.Store.Influx;
using Vanehour.Tests.Loopback;

namespace Vanehour.Store.Tests.Influx;

/// <summary>What <c>vanehour check-store</c> runs.</summary>
public sealed class InfluxTrialTests(InfluxFixture influx) : IClassFixture<InfluxFixture>, IDisposable
{
    private readonly DataFolder folder = new();

    public void Dispose() => folder.Dispose();

    [SkippableFact]
    public async Task Influxd_PassesEveryCheck()
    {
        var bucket = await influx.Daemon.CreateDatabaseAsync();

        var results = await RunAsync(new InfluxOptions { Url = influx.Shim.Url, Bucket = bucket });

        Assert.All(results, r => Assert.Null(r.Problem));
        Assert.Equal(14, results.Count);
        Assert.Equal(["this server asks for no token"], results.Where(r => !r.Name.StartsWith("an InfluxDB", StringComparison.Ordinal)).Select(r => r.Remark).OfType<string>());
    }

    [SkippableFact]
    public async Task MissingBucket_FailsWithItsSentence()
    {
        var results = await RunAsync(new InfluxOptions { Url = influx.Shim.Url, Bucket = "nowhere" });

        Assert.Equal(3, results.Count);
        Assert.Contains("has no bucket 'nowhere'", results[1].Problem, StringComparison.Ordinal);
        Assert.Contains("has no bucket 'nowhere'", results[2].Problem, StringComparison.Ordinal);
    }

    [Fact]
    public async Task NobodyThere_FailsAtOnce()
    {
        using var port = new ReservedPort();
        var results = await RunAsync(new InfluxOptions { Url = $"http://127.0.0.1:{port.Number}" });

        Assert.Contains("does not answer", Assert.Single(results).Problem, StringComparison.Ordinal);
    }

    [SkippableFact]
    public async Task NamedServer_PassesEveryCheck() => Assert.All(await RunAsync(NamedServer.Options(folder)), r => Assert.Null(r.Problem));

    private async Task<List<TrialResult>> RunAsync(InfluxOptions options)
    {
        var results = new List<TrialResult>();
        await foreach (var result in new InfluxTrial(options, TimeProvider.System).RunAsync(Directory.CreateDirectory(folder.File("trial")).FullName, CancellationToken.None))
        {
            results.Add(result);
        }

        return results;
    }
}
