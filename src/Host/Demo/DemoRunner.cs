using System.Globalization;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using Vanehour.Board;
using Vanehour.Board.People;
using Vanehour.Fleet.Import;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;
using Vanehour.Host.Pages;
using Vanehour.Host.Serving;
using Vanehour.Host.Settings;
using Vanehour.Ingest.Feed;
using Vanehour.Ingest.Health;
using Vanehour.Simulator;

namespace Vanehour.Host.Demo;

//  simulator --SenML over MQTT--> embedded broker --> ingest worker --> samples.db
//      |                                                                   |
//      +-- register CSV --> import --> fleet.db <-- analysis <-- runs -----+
//                                         |
//                                         +--> PNG reports, fleet table

/// <summary>The whole job on one machine. Nothing is short-cut: the samples go the same way as those of real trucks.</summary>
internal sealed class DemoRunner
{
    private static readonly TimeSpan LongestStoreOutage = TimeSpan.FromSeconds(15);

    private readonly CliEnvironment environment;
    private readonly ConsoleProgress progress;
    private readonly DataFolder data;
    private readonly IConfiguration settings;
    private readonly SimulatedFleet fleet;

    public DemoRunner(CliEnvironment environment, DataFolder data, IConfiguration settings, SimulatedFleet fleet)
    {
        this.environment = environment;
        this.data = data;
        this.settings = settings;
        this.fleet = fleet;
        progress = new ConsoleProgress(environment.Error, environment.Time, environment.ErrorIsTerminal);
    }

    public async Task RunAsync(int? port, bool once, BoardOptions boardOptions, CancellationToken cancellationToken)
    {
        ImportRegister();
        await using var broker = await EmbeddedBroker.StartAsync(port);
        using var worker = WorkerHost.Build(
            data,
            settings,
            options =>
            {
                // Whatever the settings say of a real feed, the demo speaks to its own broker only.
                options.SetBroker(new BrokerAddress("127.0.0.1", broker.Port, Tls: false));
                options.ClientId = "vanehour-demo";
                options.User = null;
                options.Password = null;
                options.PasswordFile = null;
                options.ShareName = null;
                options.RatePerSecond = 0;
                options.RateBurst = 0;
            },
            environment.Time,
            LogLevel.Warning);
        await worker.StartAsync(cancellationToken);
        try
        {
            await FeedAsync(worker, broker.Port, cancellationToken);
            var job = new AnalysisJob(data, settings, environment.Time, environment.Error.WriteLine);
            await job.RunAsync(fleet.End, progress, cancellationToken);
            var display = SettingsFile.Bind<DisplaySettings>(settings, "Display");
            var files = await new ReportJob(data, display).RunAsync([], Path.Combine(data.Folder, "reports"), progress, cancellationToken);
            Say(files);
            if (!once)
            {
                await using var board = await ShowBoardAsync(worker, boardOptions, cancellationToken);
                environment.Out.WriteLine(
                    $"The broker goes on listening on mqtt://127.0.0.1:{broker.Port} (topic fleet/TRUCK/pump), and what arrives is stored. Ctrl-C stops.");
                await worker.WaitForShutdownAsync(cancellationToken);
                environment.Error.WriteLine("Stopped; everything that arrived is stored.");
            }
        }
        finally
        {
            await worker.StopAsync(CancellationToken.None);
        }

        await WorkerHost.ThrowIfFaultedAsync(worker);
    }

    // The rest of the demo goes on without pages.
    private async Task<BoardHost?> ShowBoardAsync(IHost worker, BoardOptions options, CancellationToken cancellationToken)
    {
        if (!options.Enabled)
        {
            return null;
        }

        try
        {
            var board = await BoardHost.StartAsync(data, settings, options, environment.Time, worker.Services.GetRequiredService<ILoggerFactory>(), cancellationToken);
            environment.Out.WriteLine($"Look at it all in a browser: {board.Address}");
            return board;
        }
        catch (Exception e) when (e is CommandFailedException or PeopleException)
        {
            environment.Error.WriteLine(e.Message);
            return null;
        }
    }

    private void ImportRegister()
    {
        var folder = Path.Combine(data.Folder, "register");
        RegisterFiles.Write(fleet, folder);
        var files = Directory.GetFiles(folder, "*.csv").Order(StringComparer.Ordinal)
            .Select(f => new RegisterFile(Path.GetFileName(f), File.ReadAllBytes(f)))
            .ToList();
        foreach (var file in RegisterImport.Import(data.Register, files, skipBadRows: false))
        {
            if (!file.Imported)
            {
                throw new CommandFailedException($"The simulated register could not be imported: {file.Problems[0]}");
            }
        }
    }

    private async Task FeedAsync(IHost worker, int port, CancellationToken cancellationToken)
    {
        var monitor = worker.Services.GetRequiredService<IngestMonitor>();
        await monitor.WaitForAsync(s => s.Connected, cancellationToken);

        // A service waits for its store to come back; a demo that waits says nothing to anybody.
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        var watching = WatchStoreAsync(monitor, stop);
        try
        {
            var result = await PublishAsync(monitor, port, stop.Token);
            await WorkerHost.ThrowIfFaultedAsync(worker);
            environment.Out.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"{result.Messages:N0} messages with {result.Samples:N0} samples over MQTT ({result.PayloadBytes / 1e6:N0} MB); refused: {monitor.Snapshot().RejectsTotal:N0}."));
        }
        catch (OperationCanceledException) when (!cancellationToken.IsCancellationRequested)
        {
            throw new CommandFailedException(await watching ?? "The demo's samples could not be stored.");
        }
        finally
        {
            await stop.CancelAsync();
            await watching;
        }
    }

    private Task<PublishResult> PublishAsync(IngestMonitor monitor, int port, CancellationToken cancellationToken) =>
        progress.StepAsync("Simulating, publishing, storing", async share =>
        {
            var published = await MqttPublisher.PublishAsync(
                fleet, new PublishOptions { Port = port }, new ShareOf<PublishProgress>(share, p => p.Share), environment.Time, cancellationToken);

            // A worker that failed would never get there; waiting for it would never end.
            await monitor.WaitForAsync(s => !s.Running || s.MessagesAcknowledged >= published.Messages, cancellationToken);
            return published;
        });

    /// <summary>Stops the feed when the store has not taken a batch for a while, and returns why.</summary>
    private async Task<string?> WatchStoreAsync(IngestMonitor monitor, CancellationTokenSource stop)
    {
        try
        {
            while (true)
            {
                await monitor.WaitForAsync(s => s.StoreProblem is not null, stop.Token);
                using var patience = new CancellationTokenSource(LongestStoreOutage, environment.Time);
                using var either = CancellationTokenSource.CreateLinkedTokenSource(patience.Token, stop.Token);
                try
                {
                    await monitor.WaitForAsync(s => s.StoreProblem is null, either.Token);
                }
                catch (OperationCanceledException) when (!stop.IsCancellationRequested)
                {
                    var problem = monitor.Snapshot().StoreProblem;
                    await stop.CancelAsync();
                    return problem;
                }
            }
        }
        catch (OperationCanceledException)
        {
            return null;
        }
    }

    private void Say(IReadOnlyList<string> files)
    {
        FleetTable.Write(environment.Out, data);
        environment.Out.WriteLine();
        environment.Out.WriteLine(
            $"This is a simulated fleet, {Count.Of(fleet.Trucks.Length, "truck")} from {fleet.Start:yyyy-MM-dd} to {fleet.End:yyyy-MM-dd}; everything above is invented.");
        environment.Out.WriteLine($"Pictures: {Count.Of(files.Count, "PNG file")} in {Path.Combine(data.Folder, "reports")}");
        environment.Out.WriteLine("Next:");
        foreach (var command in (string[])["board", "findings --explain", "plan", "wear", $"runs {fleet.Trucks[0].Id}", "report --units Si"])
        {
            environment.Out.WriteLine("  " + Invocation.Of(command, data.Folder));
        }
    }
}
