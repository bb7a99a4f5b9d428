using System.CommandLine;
using System.Text;
using Vanehour.Board.People;
using Vanehour.Host.Output;

namespace Vanehour.Host.Commands;

/// <summary>Who may sign in to the Board: user add, remove, list.</summary>
internal static class UserCommand
{
    private static readonly Column<Person>[] Columns =
    [
        new("name", "Name", p => p.Name),
        new("role", "Role", p => p.Role),
        new("since", "Password set", p => p.Since, "yyyy-MM-dd"),
    ];

    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var command = new Command("user", "Say who may sign in to the Board; with nobody added it needs no sign-in and listens on this machine alone.\n\nExample: vanehour user add Ann --role editor");
        command.Subcommands.Add(Add(globals, environment));
        command.Subcommands.Add(Remove(globals, environment));
        command.Subcommands.Add(List(globals, environment));
        return command;
    }

    private static Command Add(GlobalOptions globals, CliEnvironment environment)
    {
        var name = Name();
        var role = new Option<Role>("--role") { Description = "viewer: look; editor: also record, mark, pin and block.", DefaultValueFactory = _ => Role.Editor, HelpName = "ROLE" };
        var file = new Option<string?>("--password-file") { Description = "A file whose first line is the password; without it the password is asked for, or read from the standard input.", HelpName = "FILE" };
        var command = new Command("add", "Add somebody, or give somebody a new password or role.\n\nExample: vanehour user add Ann --role editor");
        command.Arguments.Add(name);
        command.Options.Add(role);
        command.Options.Add(file);
        command.SetAction(parsed =>
        {
            var who = parsed.GetValue(name)!;
            var password = parsed.GetValue(file) is { } path ? FirstLine(path) : Ask(environment, who);
            var isNew = People(parsed, globals, environment).Set(who, password, parsed.GetValue(role));
            environment.Out.WriteLine($"{(isNew ? "Added" : "Changed")} {who.Trim()} ({parsed.GetValue(role).ToString().ToLowerInvariant()}). From now on the Board asks everybody to sign in.");
            return ExitCode.Done;
        });
        return command;
    }

    private static Command Remove(GlobalOptions globals, CliEnvironment environment)
    {
        var name = Name();
        var command = new Command("remove", "Take somebody away; who is signed in under the name is out at once.\n\nExample: vanehour user remove Ann");
        command.Arguments.Add(name);
        command.SetAction(parsed =>
        {
            var people = People(parsed, globals, environment);
            people.Remove(parsed.GetValue(name)!);
            environment.Out.WriteLine(people.All().Count == 0 ? "Removed; nobody is left, so the Board needs no sign-in and listens on this machine alone." : "Removed.");
            return ExitCode.Done;
        });
        return command;
    }

    private static Command List(GlobalOptions globals, CliEnvironment environment)
    {
        var command = new Command("list", "List who may sign in.\n\nExample: vanehour user list");
        command.SetAction(parsed =>
        {
            Listing.WriteTable(environment.Out, People(parsed, globals, environment).All(), Columns, "Nobody; the Board needs no sign-in and listens on this machine alone.");
            return ExitCode.Done;
        });
        return command;
    }

    private static Argument<string> Name() => new("NAME") { Description = "By which changes are signed." };

    private static PeopleFile People(ParseResult parsed, GlobalOptions globals, CliEnvironment environment)
    {
        var folder = Path.GetFullPath(parsed.GetValue(globals.Data)!);
        return Directory.Exists(folder) ? new PeopleFile(folder, environment.Time) : throw new CommandFailedException($"There is no folder {folder}; name the data folder with --data.");
    }

    private static string FirstLine(string path)
    {
        try
        {
            return File.ReadLines(path).FirstOrDefault() ?? throw new CommandFailedException($"The file {path} is empty; its first line should be the password.");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new CommandFailedException($"The password cannot be read from {path}: {e.Message}", e);
        }
    }

    private static string Ask(CliEnvironment environment, string who)
    {
        if (Console.IsInputRedirected)
        {
            return Console.In.ReadLine() ?? throw new CommandFailedException("No password was given on the standard input.");
        }

        environment.Error.Write($"Password for {who}, at least {Person.ShortestPassword} characters: ");
        var first = Hidden();
        environment.Error.Write("Once more: ");
        return first == Hidden() ? first : throw new CommandFailedException("The two were not the same; nothing was changed.");

        string Hidden()
        {
            var typed = new StringBuilder();
            for (var key = Console.ReadKey(intercept: true); key.Key != ConsoleKey.Enter; key = Console.ReadKey(intercept: true))
            {
                if (key.Key == ConsoleKey.Backspace)
                {
                    typed.Length = Math.Max(0, typed.Length - 1);
                }
                else if (!char.IsControl(key.KeyChar))
                {
                    typed.Append(key.KeyChar);
                }
            }

            environment.Error.WriteLine();
            return typed.ToString();
        }
    }
}
