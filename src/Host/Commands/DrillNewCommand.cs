using System.CommandLine;
using System.Globalization;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;
using Vanehour.Scoring.Drills;

namespace Vanehour.Host.Commands;

/// <summary>Sets up a drill in a data folder of its own.</summary>
internal static class DrillNewCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var of = new Argument<string>("CASE")
        {
            Description = "A case's number in 'drill list' or its name in the instructor's guide; random lets the seed choose.",
            DefaultValueFactory = _ => DrillCases.Random,
        };
        var difficulty = new Option<int?>("--difficulty") { Description = "1 to 3: the seed chooses among its cases (default: among all).", HelpName = "1..3" };
        var seed = new Option<long>("--seed") { Description = "Any number; the same one gives a whole class the same drill.", DefaultValueFactory = _ => 1, HelpName = "N" };
        var command = new Command(
            "new",
            "Set up a drill in a data folder of its own (--data, new or empty) and say what the driver complained of.\n\nExample: vanehour drill new --difficulty 1 --seed 7 --data lesson1");
        command.Arguments.Add(of);
        command.Options.Add(difficulty);
        command.Options.Add(seed);
        command.Validators.Add(result =>
        {
            if (result.TryGet(difficulty, out var given) && given is { } d)
            {
                if (d is < 1 or > 3)
                {
                    result.AddError("--difficulty must lie between 1 and 3.");
                }
                else if (result.GetResult(of) is { Implicit: false } && !IsRandom(result.GetValue(of)!))
                {
                    result.AddError("--difficulty goes with a random case only: a named case has its own.");
                }
            }
        });
        command.SetAction(async (parsed, cancellationToken) =>
        {
            // Not in the default folder by oversight: that is where a real fleet would go.
            if (parsed.GetResult(globals.Data) is not { Implicit: false })
            {
                throw new CommandFailedException("A drill needs a data folder of its own; name a new one with --data.");
            }

            var chosen = Case(parsed.GetValue(of)!, parsed.GetValue(difficulty), parsed.GetValue(seed));
            var folder = await new DrillJob(environment).RunAsync(parsed.GetValue(globals.Data)!, DrillFleet.Of(chosen, parsed.GetValue(seed)), cancellationToken);
            DrillPage.Task(environment.Out, folder.Read(), folder.Folder);
            return ExitCode.Done;
        });
        return command;
    }

    private static bool IsRandom(string name) => name.Equals(DrillCases.Random, StringComparison.OrdinalIgnoreCase);

    private static DrillCase Case(string name, int? difficulty, long seed)
    {
        if (IsRandom(name))
        {
            return DrillCases.Default.Draw(difficulty, seed);
        }

        var cases = DrillCases.Default.Cases;
        return int.TryParse(name, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= 1 && number <= cases.Length
            ? cases[number - 1]
            : DrillCases.Default.Find(name) ?? throw new CommandFailedException($"There is no case '{name}'; see 'vanehour drill list' for the numbers, 1 to {cases.Length}, or take random.");
    }
}
