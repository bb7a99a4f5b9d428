using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using Vanehour.Simulator;

namespace Vanehour.Host.Commands;

/// <summary>The options that say which fleet is simulated.</summary>
public sealed class FleetOptions
{
    private static readonly SimulationOptions Defaults = new();

    private readonly Option<int> trucks = new("--trucks") { Description = "How many trucks.", DefaultValueFactory = _ => Defaults.Trucks, HelpName = "N" };
    private readonly Option<int> months = new("--months") { Description = "How many months.", DefaultValueFactory = _ => Defaults.Months, HelpName = "N" };
    private readonly Option<long> seed = new("--seed") { Description = "The seed: the same one gives the same fleet.", DefaultValueFactory = _ => Defaults.Seed, HelpName = "N" };

    // Its default is said in words: the library would write it in the American order.
    private readonly Option<DateOnly> from = new("--from")
    {
        Description = $"The first day (default: {Defaults.From.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)}).",
        HelpName = "DATE",
        CustomParser = result =>
        {
            var text = result.Tokens.Count == 1 ? result.Tokens[0].Value : string.Empty;
            if (DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var date))
            {
                return date;
            }

            result.AddError($"'{text}' is not a date (as 2026-01-05) for --from.");
            return default;
        },
    };

    /// <summary>Adds the options to a command.</summary>
    public void AddTo(Command command)
    {
        ArgumentNullException.ThrowIfNull(command);
        command.Options.Add(trucks);
        command.Options.Add(months);
        command.Options.Add(seed);
        command.Options.Add(from);
        command.Validators.Add(result =>
        {
            try
            {
                Of(result).Validate();
            }
            catch (ArgumentOutOfRangeException e)
            {
                result.AddError($"--{e.ParamName?.ToLowerInvariant()}: {e.Message.Split('(')[0].Trim()}");
            }
            catch (InvalidOperationException)
            {
                // A value that could not be read has its own error already.
            }
        });
    }

    /// <summary>What was asked for.</summary>
    /// <exception cref="CommandFailedException">The period reaches into the future, where no truck can have been.</exception>
    public SimulationOptions Get(ParseResult parsed, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(parsed);
        ArgumentNullException.ThrowIfNull(time);
        var options = new SimulationOptions
        {
            Trucks = parsed.GetValue(trucks),
            Months = parsed.GetValue(months),
            Seed = parsed.GetValue(seed),
            From = parsed.GetResult(from) is null ? Defaults.From : parsed.GetValue(from),
        };
        var end = options.From.AddMonths(options.Months);
        if (end > DateOnly.FromDateTime(time.GetUtcNow().UtcDateTime))
        {
            throw new CommandFailedException(
                string.Create(CultureInfo.InvariantCulture, $"The simulated period ends on {end:yyyy-MM-dd}, in the future, and the worker refuses samples from there; choose an earlier --from or fewer --months."));
        }

        return options;
    }

    // A validator sees only what was given; a default is not filled in yet.
    private SimulationOptions Of(CommandResult result) => new()
    {
        Trucks = Given(result, trucks, Defaults.Trucks),
        Months = Given(result, months, Defaults.Months),
        Seed = Given(result, seed, Defaults.Seed),
        From = Given(result, from, Defaults.From),
    };

    private static T Given<T>(CommandResult result, Option<T> option, T otherwise) =>
        result.GetResult(option) is { Implicit: false } given ? given.GetValueOrDefault<T>()! : otherwise;
}
