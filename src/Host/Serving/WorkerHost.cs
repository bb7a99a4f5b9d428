using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Console;
using Vanehour.Host.Composition;
using Vanehour.Host.Health;
using Vanehour.Host.Settings;
using Vanehour.Ingest;
using Vanehour.Ingest.Health;
using Vanehour.Store.Outbox;

namespace Vanehour.Host.Serving;

//  broker --MQTT--> IngestWorker --> samples.db (samples or outbox, rejects) --ForwardingService--> InfluxDB, where the store is one
//                                       |
//         AnalysisScheduler --starts--> vanehour analyse --> fleet.db (runs, results, findings)
//         LimitWatchService --looks at new samples--------> fleet.db (findings) --NoticeService--> retained messages, webhook

/// <summary>Composes the ingest worker over a data folder: the same for serve, ingest, the demo and the tests.</summary>
public static class WorkerHost
{
    /// <summary>Builds the host; it is not started yet.</summary>
    /// <param name="data">The open data folder.</param>
    /// <param name="settings">Settings; the section Ingest is bound.</param>
    /// <param name="configure">What the command line says, after the settings.</param>
    /// <param name="time">The clock.</param>
    /// <param name="lowestLevel">Log lines below this level are left out.</param>
    /// <param name="more">Further services.</param>
    public static IHost Build(
        DataFolder data,
        IConfiguration settings,
        Action<IngestOptions> configure,
        TimeProvider time,
        LogLevel lowestLevel = LogLevel.Information,
        Action<IServiceCollection>? more = null)
    {
        ArgumentNullException.ThrowIfNull(data);
        ArgumentNullException.ThrowIfNull(settings);
        ArgumentNullException.ThrowIfNull(configure);

        // Says what is wrong with the settings before anything starts.
        SettingsFile.Bind<IngestOptions>(settings, IngestOptions.Section);
        var builder = Microsoft.Extensions.Hosting.Host.CreateEmptyApplicationBuilder(new HostApplicationBuilderSettings { DisableDefaults = true });
        builder.Logging.SetMinimumLevel(lowestLevel);

        // The command line says in one sentence why a worker ended; the framework would add its trace.
        builder.Logging.AddFilter("Microsoft.Extensions.Hosting", LogLevel.None);
        builder.Logging.AddFilter("Microsoft.Hosting.Lifetime", LogLevel.None);
        builder.Logging.AddConsole(options => options.FormatterName = PlainLines.FormatName);
        builder.Services.AddSingleton<ConsoleFormatter>(new PlainLines(time));
        builder.Services.Configure<ConsoleLoggerOptions>(options => options.LogToStandardErrorThreshold = LogLevel.Trace);
        builder.Services.AddMetrics();
        builder.Services.AddSingleton(time);
        builder.Services.AddSingleton(data.Samples);
        builder.Services.AddSingleton(data.Rejects);
        if (data.Remote is { } remote)
        {
            // Before the worker: where the server cannot be used at all, the feed is not even connected to.
            builder.Services.AddSingleton(remote);
            builder.Services.AddSingleton(remote.Forwarder);
            builder.Services.AddSingleton<ForwardingMetrics>();
            builder.Services.AddHostedService<ForwardingService>();
        }

        builder.Services.AddOptions<IngestOptions>().Bind(settings.GetSection(IngestOptions.Section), binder => binder.ErrorOnUnknownConfiguration = true);
        builder.Services.AddVanehourIngest(options =>
        {
            configure(options);
            if (string.IsNullOrEmpty(options.ClientId))
            {
                options.ClientId = WorkerId.Of(data.Folder, options.ShareName);
            }
        });
        builder.Services.AddHostedService(s => new WorkerStatusWriter(data.Folder, s.GetRequiredService<IngestMonitor>(), time));
        builder.Services.Configure<HostOptions>(options => options.ShutdownTimeout = TimeSpan.FromSeconds(30));
        more?.Invoke(builder.Services);
        return builder.Build();
    }

    /// <summary>Runs until it is cancelled or a service fails; a failure comes out as its own exception.</summary>
    public static async Task RunAsync(IHost host, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(host);
        await host.StartAsync(cancellationToken);
        await host.WaitForShutdownAsync(cancellationToken);
        await ThrowIfFaultedAsync(host);
    }

    /// <summary>Throws what a service of a stopped host failed with.</summary>
    public static async Task ThrowIfFaultedAsync(IHost host)
    {
        ArgumentNullException.ThrowIfNull(host);
        foreach (var service in host.Services.GetServices<IHostedService>().OfType<BackgroundService>())
        {
            if (service.ExecuteTask is { IsFaulted: true } failed)
            {
                await failed;
            }
        }
    }
}
