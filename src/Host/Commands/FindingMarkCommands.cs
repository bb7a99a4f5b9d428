using System.CommandLine;
using Vanehour.Fleet;
using Vanehour.Host.Composition;
using Vanehour.Models.Findings;

namespace Vanehour.Host.Commands;

/// <summary>What people do to findings: findings close, findings acknowledge.</summary>
internal static class FindingMarkCommands
{
    private const string NothingWasFound = "None";

    public static Command Close(GlobalOptions globals, CliEnvironment environment)
    {
        var id = Id();
        var cause = new Option<string>("--cause") { Description = "What was really found: a cause as 'findings --explain' names them, or None where nothing was wrong.", HelpName = "CAUSE", Required = true };
        var (by, note) = (By(), Note());
        var command = new Command(
            "close", "Close a finding with what was really found; only data from then on raises it again.\n\nExample: vanehour findings close 3fa9c01b7e --cause OilLeak --by Ann");
        command.Arguments.Add(id);
        command.Options.Add(cause);
        command.Options.Add(by);
        command.Options.Add(note);
        command.SetAction(parsed =>
        {
            var found = CauseOf(parsed.GetValue(cause)!);
            using var data = DataFolder.OpenExisting(parsed.GetValue(globals.Data)!);
            var book = new FindingBook(data.Findings);
            var finding = One(book, parsed.GetValue(id)!);
            var verdict = new Verdict(found, Text(parsed.GetValue(by)), Text(parsed.GetValue(note)));
            if (finding.HasVerdict || book.Close(finding.Id, verdict, environment.Time.GetUtcNow()) is not { } closed)
            {
                throw new CommandFailedException(
                    $"Finding {finding.Id} is already closed with what was found: {finding.CauseFound?.ToString() ?? "nothing"}{(finding.ClosedBy is { } who ? $" (by {who})" : string.Empty)}.");
            }

            var what = closed.NothingFound ? "nothing was found" : $"{closed.CauseFound} was found";
            environment.Out.WriteLine($"Closed {Words(closed)}: {what}{Ranked(closed)}.");
            return ExitCode.Done;
        });
        return command;
    }

    public static Command Acknowledge(GlobalOptions globals, CliEnvironment environment)
    {
        var id = Id();
        var (by, note) = (By(), Note());
        var command = new Command("acknowledge", "Say that a finding was seen; it stays acknowledged until it closes.\n\nExample: vanehour findings acknowledge 3fa9c01b7e --by Ann");
        command.Arguments.Add(id);
        command.Options.Add(by);
        command.Options.Add(note);
        command.SetAction(parsed =>
        {
            using var data = DataFolder.OpenExisting(parsed.GetValue(globals.Data)!);
            var book = new FindingBook(data.Findings);
            var finding = One(book, parsed.GetValue(id)!);
            if (book.Acknowledge(finding.Id, Text(parsed.GetValue(by)), Text(parsed.GetValue(note))) is not { Status: FindingStatus.Acknowledged } seen)
            {
                throw new CommandFailedException($"Finding {finding.Id} is already closed; 'vanehour findings --all' shows how.");
            }

            environment.Out.WriteLine($"Acknowledged {Words(seen)}.");
            return ExitCode.Done;
        });
        return command;
    }

    private static Argument<string> Id() => new("ID") { Description = "The finding's id, or as much of its beginning as names one alone." };

    private static Option<string?> By() => new("--by") { Description = "Who says so.", HelpName = "NAME" };

    private static Option<string?> Note() => new("--note") { Description = "What else there is to say.", HelpName = "TEXT" };

    private static string? Text(string? given) => string.IsNullOrWhiteSpace(given) ? null : given.Trim();

    /// <summary>A cause by its name; null for None.</summary>
    /// <exception cref="CommandFailedException">There is no such cause.</exception>
    internal static Cause? CauseOf(string name)
    {
        if (name.Equals(NothingWasFound, StringComparison.OrdinalIgnoreCase))
        {
            return null;
        }

        // By name only: the parser would take a number too.
        var names = Enum.GetNames<Cause>();
        return names.FirstOrDefault(n => n.Equals(name, StringComparison.OrdinalIgnoreCase)) is { } known
            ? Enum.Parse<Cause>(known)
            : throw new CommandFailedException($"'{name}' is not a cause; the causes are {string.Join(", ", names)}, or {NothingWasFound} where nothing was wrong.");
    }

    private static Finding One(FindingBook book, string id)
    {
        if (id.Length == 0)
        {
            throw new CommandFailedException("The id is empty; see 'vanehour findings'.");
        }

        return book.Find(id) switch
        {
            [var one] => one,
            [] => throw new CommandFailedException($"There is no finding {id}; see 'vanehour findings'."),
            var several => throw new CommandFailedException($"{several.Count} findings begin with {id}: {string.Join(", ", several.Take(5).Select(f => f.Id))}{(several.Count > 5 ? ", ..." : string.Empty)}; give more of it."),
        };
    }

    private static string Words(Finding finding) =>
        $"{finding.Id} ({finding.Kind} {(finding.Truck is { } truck ? "on " + truck : "of the installation")})";

    private static string Ranked(Finding finding)
    {
        if (finding.CauseFound is not { } cause)
        {
            return string.Empty;
        }

        var place = finding.Causes.Select(c => c.Cause).ToList().IndexOf(cause) + 1;
        return place == 0 ? ", which was not among the causes named" : $", named in place {place} of {finding.Causes.Length}";
    }
}
