using System.CommandLine;

namespace Vanehour.Host.Commands;

/// <summary>Training drills: a case is set up, people answer, the truth is revealed and scored.</summary>
internal static class DrillCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var command = new Command(
            "drill",
            "Training drills: an invented fleet with one complaint, whose truth stays sealed until it is revealed.\n\nExample: vanehour drill new --difficulty 1 --seed 7 --data lesson1");
        command.Subcommands.Add(DrillListCommand.Create(environment));
        command.Subcommands.Add(DrillNewCommand.Create(globals, environment));
        command.Subcommands.Add(DrillShowCommand.Create(globals, environment));
        command.Subcommands.Add(DrillAnswerCommand.Create(globals, environment));
        command.Subcommands.Add(DrillRevealCommand.Create(globals, environment));
        command.Subcommands.Add(DrillScoresCommand.Create(environment));
        return command;
    }
}
