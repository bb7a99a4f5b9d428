using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Options;
using Vanehour.Ingest.Feed;
using Vanehour.Ingest.Tests.Memory;
using Vanehour.Store.Rejects;
using Vanehour.Store.Telemetry;
using Vanehour.Tests.Loopback;

namespace Vanehour.Ingest.Tests.Worker;

/// <summary>The worker inside the generic host, as the executable composes it.</summary>
public class HostTests
{
    [Fact]
    public async Task WrongSettings_StopTheHostAtItsStart_WithEveryProblemSaid()
    {
        using var host = Build(o => (o.MaxTrucks, o.ShareName) = (0, "a/b"));

        var e = await Assert.ThrowsAsync<OptionsValidationException>(() => host.StartAsync());
        Assert.Equal(2, e.Failures.Count());
    }

    [Fact]
    public async Task FailedWorker_StopsTheHost_AndKeepsItsException()
    {
        using var port = new ReservedPort();
        using var host = Build(o => (o.Host, o.Port, o.ConnectTimeout) = ("127.0.0.1", port.Number, TimeSpan.FromSeconds(60)));
        var worker = host.Services.GetRequiredService<IngestWorker>();

        // Whether the host throws what stopped it differs between its versions; the worker's own task is what counts.
        await host.RunAsync().WaitAsync(WorkerRig.Patience)
            .ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing | ConfigureAwaitOptions.ContinueOnCapturedContext);

        var e = await Assert.ThrowsAsync<BrokerException>(() => worker.ExecuteTask!);
        Assert.Equal(BrokerFailure.Unreachable, e.Failure);
    }

    [Fact]
    public void Section_BindsEverySetting_ListsIncluded()
    {
        var builder = Host.CreateEmptyApplicationBuilder(null);
        builder.Configuration.AddInMemoryCollection(new Dictionary<string, string?>
        {
            ["Ingest:Host"] = "broker.example",
            ["Ingest:Tls"] = "true",
            ["Ingest:BatchDelay"] = "00:00:01",
            ["Ingest:Topics:0"] = "a/{truck}",
            ["Ingest:Topics:1"] = "b/{truck}/#",
            ["Ingest:Names:engine"] = "",
            ["Ingest:Names:vac"] = "vacuum",
        });
        builder.Services.Configure<IngestOptions>(builder.Configuration.GetSection(IngestOptions.Section));
        builder.Services.AddVanehourIngest(o => o.ClientId = "from-the-command-line");
        using var host = builder.Build();
        var options = host.Services.GetRequiredService<IOptions<IngestOptions>>().Value;

        Assert.Equal(new BrokerAddress("broker.example", 8883, true), options.Broker);
        Assert.Equal(["a/{truck}", "b/{truck}/#"], options.EffectiveTopics);
        Assert.Equal(("", "vacuum"), (options.Names["engine"], options.Names["vac"]));
        Assert.Equal((TimeSpan.FromSeconds(1), "from-the-command-line"), (options.BatchDelay, options.EffectiveClientId));
    }

    private static IHost Build(Action<IngestOptions> configure)
    {
        var builder = Host.CreateEmptyApplicationBuilder(null);
        builder.Logging.ClearProviders();
        builder.Services.AddSingleton<ITelemetryStore, InMemoryTelemetryStore>();
        builder.Services.AddSingleton<IRejectLog, InMemoryRejectLog>();
        builder.Services.AddVanehourIngest(configure);
        return builder.Build();
    }
}
