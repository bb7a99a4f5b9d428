using System.CommandLine;
using Vanehour.Scoring.Drills;

namespace Vanehour.Host.Commands;

/// <summary>Takes an answer to a drill.</summary>
internal static class DrillAnswerCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var truck = new Argument<string>("TRUCK") { Description = "The truck that something is wrong with, or the one complained of where nothing is." };
        var cause = new Argument<string>("CAUSE") { Description = "What is wrong: a cause as 'drill show' lists them, or None." };
        var action = new Argument<string>("ACTION") { Description = $"What you would do: {string.Join(", ", Enum.GetNames<DrillAction>())}." };
        var by = new Option<string>("--by") { Description = "Who answers.", HelpName = "NAME", Required = true };
        var note = new Option<string?>("--note") { Description = "Why.", HelpName = "TEXT" };
        var command = new Command(
            "answer", "Answer a drill. A second answer by the same name replaces the first, until the reveal.\n\nExample: vanehour drill answer T02 OilLeak RepairThisWeek --by Ann --data lesson1");
        command.Arguments.Add(truck);
        command.Arguments.Add(cause);
        command.Arguments.Add(action);
        command.Options.Add(by);
        command.Options.Add(note);
        command.SetAction(parsed =>
        {
            var drill = DrillFolder.Open(parsed.GetValue(globals.Data)!);
            var result = drill.Submit(
                parsed.GetValue(truck)!,
                FindingMarkCommands.CauseOf(parsed.GetValue(cause)!),
                ActionOf(parsed.GetValue(action)!),
                parsed.GetValue(by)!,
                parsed.GetValue(note),
                environment.Time.GetUtcNow());
            if (!result.Accepted)
            {
                throw new CommandFailedException(result.Sentence);
            }

            environment.Out.WriteLine(result.Sentence);
            return ExitCode.Done;
        });
        return command;
    }

    private static DrillAction ActionOf(string name)
    {
        // By name only: the parser would take a number too.
        var names = Enum.GetNames<DrillAction>();
        return names.FirstOrDefault(n => n.Equals(name, StringComparison.OrdinalIgnoreCase)) is { } known
            ? Enum.Parse<DrillAction>(known)
            : throw new CommandFailedException($"'{name}' is not an action; the actions are {string.Join(", ", names)}.");
    }
}
