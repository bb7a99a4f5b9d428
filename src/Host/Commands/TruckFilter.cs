using System.CommandLine;
using Vanehour.Host.Composition;

namespace Vanehour.Host.Commands;

/// <summary>The options --yard and --model, which keep to some of the registered trucks.</summary>
internal sealed class TruckFilter
{
    private readonly Option<string?> yard = new("--yard") { Description = "Only trucks of this yard.", HelpName = "YARD" };
    private readonly Option<string?> model = new("--model") { Description = "Only trucks registered with this pump model.", HelpName = "MODEL" };

    public void AddTo(Command command)
    {
        command.Options.Add(yard);
        command.Options.Add(model);
    }

    /// <summary>The ids of the trucks to keep to.</summary>
    /// <exception cref="CommandFailedException">No truck has that yard or model, which is more likely a typing error than a question.</exception>
    public IReadOnlySet<string> Trucks(ParseResult parsed, DataFolder data)
    {
        var all = data.Register.Trucks();
        var wantedYard = parsed.GetValue(yard);
        var wantedModel = parsed.GetValue(model);
        Require(wantedYard, "is in a yard", all.Select(t => t.Yard));
        Require(wantedModel, "has a pump model", all.Select(t => t.PumpModel));

        return all
            .Where(t => (wantedYard is null || t.Yard == wantedYard) && (wantedModel is null || t.PumpModel == wantedModel))
            .Select(t => t.Id)
            .ToHashSet(StringComparer.Ordinal);
    }

    /// <summary>Sees that some truck has what is asked for.</summary>
    /// <exception cref="CommandFailedException">None has.</exception>
    public static void Require(string? wanted, string what, IEnumerable<string?> names)
    {
        if (wanted is not null && !names.Contains(wanted, StringComparer.Ordinal))
        {
            throw new CommandFailedException($"No truck {what} '{wanted}'; there are {Names(names.OfType<string>())}.");
        }
    }

    private static string Names(IEnumerable<string> names) =>
        string.Join(", ", names.Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)) is { Length: > 0 } text ? text : "none";
}
