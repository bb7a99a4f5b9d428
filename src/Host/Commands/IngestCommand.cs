using System.CommandLine;
using Vanehour.Host.Composition;
using Vanehour.Host.Serving;
using Vanehour.Host.Settings;

namespace Vanehour.Host.Commands;

/// <summary>Runs the ingest worker alone.</summary>
internal static class IngestCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var broker = BrokerOption.Create("The broker; default as set in Ingest:Host.");
        var store = StoreOption.Create();
        var share = new Option<string?>("--share") { Description = "Share the feed with other workers of this name (the broker must know MQTT 5 shared subscriptions).", HelpName = "NAME" };
        var command = new Command("ingest", "Take in the feed and store it, nothing else, until stopped.\n\nExample: vanehour ingest --broker mqtt://localhost:1883");
        var clientId = ClientIdOption.Create();
        command.Options.Add(broker);
        command.Options.Add(store);
        command.Options.Add(share);
        command.Options.Add(clientId);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var folder = parsed.GetValue(globals.Data)!;
            FolderMarks.RefuseDrill(folder, "ingest");
            using var data = DataFolder.Open(folder, parsed.GetValue(store));
            using var host = WorkerHost.Build(
                data,
                SettingsFile.Read(folder),
                options =>
                {
                    if (parsed.GetValue(broker) is { } address)
                    {
                        options.SetBroker(address);
                    }

                    options.ShareName = parsed.GetValue(share) ?? options.ShareName;
                    options.ClientId = parsed.GetValue(clientId) ?? options.ClientId;
                },
                environment.Time);
            await WorkerHost.RunAsync(host, cancellationToken);
            return ExitCode.Done;
        });
        return command;
    }
}
