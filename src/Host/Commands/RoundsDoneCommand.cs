using System.CommandLine;
using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Fleet.Import;
using Vanehour.Host.Composition;
using Vanehour.Host.Settings;
using Vanehour.Models.Rounds;

namespace Vanehour.Host.Commands;

/// <summary>A crew marks a round, or one check of it, as done.</summary>
internal static class RoundsDoneCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var truck = new Argument<string>("TRUCK") { Description = "The truck's id." };
        var what = new Argument<string>("ROUND_OR_CHECK") { Description = "daily, weekly, monthly, or one check by its key, as inlet_filter; 'vanehour rounds --all' lists them." };
        var by = new Option<string>("--by") { Description = "Who did it.", HelpName = "NAME", Required = true };
        var date = new Option<string?>("--date") { Description = "When, in the truck's time zone, as 2026-03-09 or 2026-03-09T07:30 (default: now).", HelpName = "DATE" };
        var meter = new Option<double?>("--meter") { Description = "PTO hours on the meter (default: as the last run before left it).", HelpName = "HOURS" };
        var note = new Option<string?>("--note") { Description = "What else there is to say.", HelpName = "TEXT" };
        var command = new Command("done", "Mark a round, or one check of it, as done.\n\nExample: vanehour rounds done T07 daily --by Ann");
        command.Arguments.Add(truck);
        command.Arguments.Add(what);
        command.Options.Add(by);
        command.Options.Add(date);
        command.Options.Add(meter);
        command.Options.Add(note);
        command.SetAction(parsed =>
        {
            using var data = DataFolder.OpenExisting(parsed.GetValue(globals.Data)!);
            data.RequireTruck(parsed.GetValue(truck)!);
            var of = data.Register.Trucks().First(t => t.Id == parsed.GetValue(truck));
            var name = NameOf(parsed.GetValue(what)!, of, RoundSettings.Read(SettingsFile.Read(data.Folder)));
            var who = Text(parsed.GetValue(by)) ?? throw new CommandFailedException("--by is empty; say who did it.");
            var at = Instant(parsed.GetValue(date), of, RoundReading.Now(data, environment.Time));
            var mark = new RoundMark(of.Id, name, at, Meter(parsed.GetValue(meter), data, of, at), who, Text(parsed.GetValue(note)));

            var isNew = data.RoundMarks(environment.Time).Add(mark);
            environment.Out.WriteLine(string.Create(
                CultureInfo.InvariantCulture, $"{(isNew ? "Marked" : "Already marked")}: {name} on {of.Id} by {mark.By}, at {mark.MeterH:0.0} h on {at.UtcDateTime:yyyy-MM-dd HH:mm}Z{(isNew ? string.Empty : "; nothing changed")}."));
            return ExitCode.Done;
        });
        return command;
    }

    private static string? Text(string? given) => string.IsNullOrWhiteSpace(given) ? null : given.Trim();

    private static string NameOf(string given, Truck truck, RoundOptions options)
    {
        var name = given.Trim().Replace('-', '_').ToLowerInvariant();
        var rounds = RoundTable.WholeRounds.Select(r => r.ToString().ToLowerInvariant()).ToList();
        if (rounds.Contains(name))
        {
            return name;
        }

        var own = RoundTable.Default.For(truck, options);
        if (own.FirstOrDefault(c => c.Key == name) is { } check)
        {
            return check.Key;
        }

        throw new CommandFailedException(
            RoundTable.Default.Find(name) is not { } known ? $"'{given}' is no round and no check; on {truck.Id} there are {string.Join(", ", rounds.Concat(own.Select(c => c.Key)))}."
            : options.Apply(known) is null ? $"The check {known.Key} is switched off in the settings section {RoundSettings.Section}."
            : $"Truck {truck.Id} does not have what the check {known.Key} is about, by its registration (drive, deodoriser); correct that with 'vanehour import'.");
    }

    private static DateTimeOffset Instant(string? given, Truck truck, DateTimeOffset now)
    {
        if (given is null)
        {
            // Seconds are what a mark's id tells apart.
            return now.AddTicks(-(now.Ticks % TimeSpan.TicksPerSecond));
        }

        return !LocalInstant.TryParse(given.Trim(), YardTime.ZoneOf(truck), out var at) ? throw new CommandFailedException($"'{given}' is not a date (as 2026-03-09) or date-time (as 2026-03-09T07:30) for --date.")
            : at > now ? throw new CommandFailedException($"--date {given} lies ahead; a round is marked once it is done.")
            : at;
    }

    private static double Meter(double? given, DataFolder data, Truck truck, DateTimeOffset at)
    {
        if (given is { } meter)
        {
            return double.IsFinite(meter) && meter >= 0 ? meter : throw new CommandFailedException("--meter must be a number of hours, not below zero.");
        }

        // A date alone is the beginning of its day: the first run after it tells the meter where none came before.
        var runs = data.Runs.Read(truck.Id);
        return runs.LastOrDefault(r => r.End <= at && r.MeterEndH is not null)?.MeterEndH
            ?? runs.FirstOrDefault(r => r.Start >= at && r.MeterStartH is not null)?.MeterStartH
            ?? throw new CommandFailedException($"No run of {truck.Id} tells what its meter stood at; give it with --meter.");
    }
}
