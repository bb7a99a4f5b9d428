using System.CommandLine;
using System.Globalization;
using Vanehour.Host.Composition;
using Vanehour.Host.Demo;
using Vanehour.Host.Output;
using Vanehour.Host.Pages;
using Vanehour.Host.Settings;
using Vanehour.Simulator;

namespace Vanehour.Host.Commands;

/// <summary>The whole job on one machine, with a simulated fleet.</summary>
internal static class DemoCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var fleetOptions = new FleetOptions();
        var once = new Option<bool>("--once") { Description = "Stop when the reports are written." };
        var port = new Option<int?>("--port") { Description = "The embedded broker's port on this machine's loopback address (default: any free one).", HelpName = "PORT" };
        var command = new Command(
            "demo",
            "The whole job on one machine with a simulated fleet: broker, feed, store, analysis, reports. Needs no set-up.\n\nExample: vanehour demo --once");
        fleetOptions.AddTo(command);
        var where = new BoardOptionsOption();
        command.Options.Add(once);
        command.Options.Add(port);
        where.AddTo(command);
        command.Validators.Add(result =>
        {
            if (result.TryGet(port, out var given) && given is < 1 or > 65535)
            {
                result.AddError("--port must lie between 1 and 65535.");
            }
        });
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var options = fleetOptions.Get(parsed, environment.Time);
            var folder = parsed.GetValue(globals.Data)!;
            var settings = SettingsFile.Read(folder);
            FolderMarks.RefuseDrill(folder, "demo");
            var board = BoardHost.OptionsOf(settings, o => where.Over(o, parsed));
            using var data = DataFolder.Open(folder, StoreKind.Sqlite);
            Claim(data, DemoSettings.Of(options));
            var runner = new DemoRunner(environment, data, settings, SimulatedFleet.Create(options));
            await runner.RunAsync(parsed.GetValue(port), parsed.GetValue(once), board, cancellationToken);
            return ExitCode.Done;
        });
        return command;
    }

    /// <summary>A demo must not mix into a real fleet, nor into another demo.</summary>
    private static void Claim(DataFolder data, DemoSettings wanted)
    {
        var held = DemoSettings.Read(data.Folder);
        if (held is null && data.Register.Trucks().Count > 0)
        {
            throw new CommandFailedException($"{data.Folder} holds a fleet that is not a demo's; choose another folder with --data.");
        }

        if (held is not null && held != wanted)
        {
            throw new CommandFailedException(string.Create(
                CultureInfo.InvariantCulture,
                $"{data.Folder} holds another demo ({Count.Of(held.Trucks, "truck")}, {Count.Of(held.Months, "month")} from {held.From:yyyy-MM-dd}, seed {held.Seed}); choose another folder with --data, or delete it."));
        }

        wanted.Write(data.Folder);
    }
}
