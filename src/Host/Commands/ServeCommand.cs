using System.CommandLine;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using Vanehour.Host.Composition;
using Vanehour.Host.Demo;
using Vanehour.Host.Pages;
using Vanehour.Host.Serving;
using Vanehour.Host.Settings;
using Vanehour.Ingest.Feed;

namespace Vanehour.Host.Commands;

/// <summary>Runs the worker and the analysis until stopped.</summary>
internal static class ServeCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var broker = BrokerOption.Create("The broker; default as set in Ingest:Host.");
        var store = StoreOption.Create();
        var embedded = new Option<bool>("--embedded-broker") { Description = "Run a broker inside this process, on this machine's loopback address only." };
        var port = new Option<int?>("--port") { Description = "The embedded broker's port (default 1883).", HelpName = "PORT" };
        var every = new Option<int?>("--analyse-every") { Description = "Minutes between analyses; default as set in Serve:AnalyseEveryMinutes (60).", HelpName = "MINUTES" };
        var command = new Command("serve", "Take in the feed, store it, analyse it and show the Board, until stopped.\n\nExample: vanehour serve --broker mqtts://broker.example:8883");
        var clientId = ClientIdOption.Create();
        var where = new BoardOptionsOption();
        var noBoard = new Option<bool>("--no-board") { Description = "Show no web pages." };
        command.Options.Add(broker);
        command.Options.Add(store);
        command.Options.Add(embedded);
        command.Options.Add(port);
        command.Options.Add(every);
        command.Options.Add(clientId);
        where.AddTo(command);
        command.Options.Add(noBoard);
        command.Validators.Add(result =>
        {
            if (result.GetValue(embedded) && result.GetValue(broker) is not null)
            {
                result.AddError("Choose one of --broker and --embedded-broker.");
            }

            if (result.TryGet(port, out _) && !result.GetValue(embedded))
            {
                result.AddError("--port goes with --embedded-broker.");
            }
        });
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var folder = parsed.GetValue(globals.Data)!;
            FolderMarks.RefuseDrill(folder, "serve");
            var settings = SettingsFile.Read(folder);
            var serve = SettingsFile.Bind<ServeSettings>(settings, "Serve");
            serve.AnalyseEveryMinutes = parsed.GetValue(every) ?? serve.AnalyseEveryMinutes;
            if (serve.AnalyseEveryMinutes is < 1 or > ServeSettings.LongestMinutes)
            {
                throw new CommandFailedException($"The minutes between analyses must lie between 1 and {ServeSettings.LongestMinutes}.");
            }

            var findings = FindingServices.Read(settings);
            var board = BoardHost.OptionsOf(settings, o => where.Over(o, parsed));
            using var data = DataFolder.Open(folder, parsed.GetValue(store));
            await using var own = parsed.GetValue(embedded)
                ? await EmbeddedBroker.StartAsync(parsed.GetValue(port) ?? BrokerAddress.DefaultPort)
                : null;
            var address = own is null ? parsed.GetValue(broker) : new BrokerAddress("127.0.0.1", own.Port, Tls: false);
            using var host = WorkerHost.Build(
                data,
                settings,
                options =>
                {
                    if (address is not null)
                    {
                        options.SetBroker(address);
                    }

                    options.ClientId = parsed.GetValue(clientId) ?? options.ClientId;
                },
                environment.Time,
                more: services =>
                {
                    services.AddHostedService(s => new AnalysisScheduler(
                        data, TimeSpan.FromMinutes(serve.AnalyseEveryMinutes), environment.Time, s.GetRequiredService<ILogger<AnalysisScheduler>>()));
                    findings.AddTo(services, data, brokerForgets: own is not null);
                    if (board.Enabled && !parsed.GetValue(noBoard))
                    {
                        services.AddSingleton<IHostedService>(s => new BoardService(data, settings, board, environment.Time, s.GetRequiredService<ILoggerFactory>()));
                    }
                });
            await WorkerHost.RunAsync(host, cancellationToken);
            return ExitCode.Done;
        });
        return command;
    }
}
