using System.CommandLine;
using System.Globalization;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;
using Vanehour.Simulator;

namespace Vanehour.Host.Commands;

/// <summary>Publishes a simulated fleet to a broker.</summary>
internal static class SimulateCommand
{
    // As a good gateway does; the demo takes half as many.
    private const int PublishedPumpDownIntervalS = 2;

    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var broker = BrokerOption.Create("The broker to publish to; without one nothing is published and only files are written.");
        var user = new Option<string?>("--user") { Description = "User at the broker.", HelpName = "NAME" };
        var passwordFile = new Option<string?>("--password-file") { Description = "File that holds the password in its first line.", HelpName = "FILE" };
        var caFile = new Option<string?>("--ca-file") { Description = "PEM file of the authority that vouches for the broker.", HelpName = "FILE" };
        var fleetOptions = new FleetOptions();
        var pace = new Option<PublishPace>("--pace") { Description = "Fast: as fast as the broker takes it. Real: in real time.", DefaultValueFactory = _ => PublishPace.Fast, HelpName = "Fast|Real" };
        var faults = new Option<FaultScenario>("--faults") { Description = "Default: the demo's faults. None: a healthy fleet. Drift: healthy, but the vanes of every other truck begin to wear faster.", DefaultValueFactory = _ => FaultScenario.Default, HelpName = "Default|None|Drift" };
        var history = new Option<int>("--history-years") { Description = "Years of past lives in the register's service records, 0 to 30.", DefaultValueFactory = _ => 0, HelpName = "N" };
        history.Validators.Add(result =>
        {
            if (result.GetResult(history) is { Errors: var errors } && !errors.Any() && result.GetValue(history) is < 0 or > 30)
            {
                result.AddError("--history-years: Must lie between 0 and 30.");
            }
        });
        var truth = new Option<string?>("--truth") { Description = "Write what is really wrong to this file, outside the data folder.", HelpName = "FILE" };
        var register = new Option<string?>("--register") { Description = "Write the fleet's register as CSV files into this folder.", HelpName = "DIR" };
        var dirt = new Option<double>("--dirt")
        {
            Description = "How dirty the telemetry is, 0 to 3: 0 is clean, 1 as real feeds are (gaps, late bursts, duplicates, spikes, wrong clocks).",
            DefaultValueFactory = _ => 0,
            HelpName = "X",
        };
        var resume = new Option<string?>("--resume") { Description = "Keep in this file how far publishing has come, and go on from there.", HelpName = "FILE" };
        var command = new Command(
            "simulate",
            "Publish a simulated fleet over MQTT, and write its register.\n\nExample: vanehour simulate --broker mqtt://localhost --trucks 3 --months 1 --register simulated");
        command.Options.Add(broker);
        command.Options.Add(user);
        command.Options.Add(passwordFile);
        command.Options.Add(caFile);
        fleetOptions.AddTo(command);
        command.Options.Add(pace);
        command.Options.Add(faults);
        command.Options.Add(history);
        command.Options.Add(dirt);
        command.Options.Add(truth);
        command.Options.Add(register);
        command.Options.Add(resume);
        command.Validators.Add(result =>
        {
            if (result.GetResult(broker) is null && result.GetResult(truth) is null && result.GetResult(register) is null)
            {
                result.AddError("Nothing to do: give --broker, --register or --truth.");
            }

            if (result.GetResult(resume) is not null && result.GetResult(broker) is null)
            {
                result.AddError("--resume goes with --broker: it keeps how far publishing has come.");
            }

            if (result.GetResult(dirt) is { Implicit: false, Errors: var wrong } given && !wrong.Any() && given.GetValueOrDefault<double>() is not (>= 0 and <= 3))
            {
                result.AddError("--dirt: Must lie between 0 and 3.");
            }
        });
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var options = fleetOptions.Get(parsed, environment.Time) with
            {
                Faults = parsed.GetValue(faults),
                HistoryYears = parsed.GetValue(history),
                Dirt = parsed.GetValue(dirt),
                PumpDownIntervalS = PublishedPumpDownIntervalS,
            };
            var fleet = SimulatedFleet.Create(options);
            FolderMarks.RefuseDrill(parsed.GetValue(globals.Data)!, "simulate");
            if (parsed.GetValue(register) is { } folder)
            {
                FolderMarks.RefuseDrill(folder, "simulate");
                RegisterFiles.Write(fleet, folder);
                environment.Out.WriteLine($"Register written to {Path.GetFullPath(folder)}; import it with 'vanehour import'.");
            }

            if (parsed.GetValue(truth) is { } truthFile)
            {
                RefuseInside(truthFile, parsed.GetValue(globals.Data)!);
                TruthFile.Write(fleet, truthFile);
                environment.Out.WriteLine($"Truth written to {Path.GetFullPath(truthFile)}.");
            }

            if (parsed.GetValue(broker) is not { } address)
            {
                return ExitCode.Done;
            }

            var publish = new PublishOptions
            {
                Host = address.Host,
                Port = address.Port,
                UseTls = address.Tls,
                CaFile = parsed.GetValue(caFile),
                User = parsed.GetValue(user),
                Password = parsed.GetValue(passwordFile) is { } file ? File.ReadLines(file).FirstOrDefault() : null,
                Pace = parsed.GetValue(pace),
                ResumeFile = parsed.GetValue(resume),
            };
            var progress = new ConsoleProgress(environment.Error, environment.Time, environment.ErrorIsTerminal);
            var result = await progress.StepAsync("Publishing", share => MqttPublisher.PublishAsync(
                fleet, publish, new ShareOf<PublishProgress>(share, p => p.Share), environment.Time, cancellationToken));
            if (result.PublishedBefore > 0)
            {
                environment.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Went on after {result.PublishedBefore:N0} messages that were published before."));
            }

            environment.Out.WriteLine(string.Create(
                CultureInfo.InvariantCulture, $"{result.Messages:N0} messages with {result.Samples:N0} samples published to {address}."));
            return ExitCode.Done;
        });
        return command;
    }

    // The worker and the models must never find the answer beside their data.
    private static void RefuseInside(string file, string dataFolder)
    {
        var folder = Path.GetFullPath(dataFolder).TrimEnd(Path.DirectorySeparatorChar) + Path.DirectorySeparatorChar;
        if (Path.GetFullPath(file).StartsWith(folder, StringComparison.Ordinal))
        {
            throw new CommandFailedException($"The truth file {file} lies in the data folder {folder}; keep it elsewhere.");
        }
    }
}
