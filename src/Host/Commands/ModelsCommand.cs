using System.CommandLine;
using System.Globalization;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;
using Vanehour.Models.Regression;

namespace Vanehour.Host.Commands;

/// <summary>Lists what was fitted, on how much, and how well.</summary>
internal static class ModelsCommand
{
    private static readonly Column<ModelRow>[] Columns =
    [
        new("name", "Model", m => m.Name),
        new("scope", "Of", m => m.Scope),
        new("method", "Method", m => m.Method, Rank: 2),
        new("status", "Status", m => m.Status),
        new("observations", "n", m => m.Observations),
        new("residual_scale", "Residual sd", m => m.ResidualScale, "0.0000"),
        new("r_squared", "R squared", m => m.RSquared, "0.000"),
        new("coefficients", "Estimates (standard errors)", m => string.Join("; ", m.Coefficients.Select(Text)), Rank: 1),
        new("choice", "Choice", m => ChoiceText.Of(m.Choice), Rank: 2),
        new("band", "Band", m => ChoiceText.OfBand(m.Choice, m.Scope), Rank: 2),
        new("warnings", "Remarks", m => string.Join(" ", m.Warnings), Rank: 3),
    ];

    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var listing = new ListingOptions();
        var command = new Command("models", "List the fitted models: method, observations, estimates with standard errors, residual scale; for oil use and temperature rise by what they are judged and why.\n\nExample: vanehour models");
        listing.AddTo(command);
        command.SetAction(parsed =>
        {
            using var data = DataFolder.OpenExisting(parsed.GetValue(globals.Data)!);
            var analysis = data.RequireAnalysis();
            Listing.Write(
                environment.Out,
                listing.Format(parsed),
                [.. analysis.Models.Select(m => ModelRow.Of(m, analysis.Choices))],
                Columns,
                (JsonTypeInfo<IReadOnlyList<ModelRow>>)HostJson.Default.IReadOnlyListModelRow,
                "Nothing is fitted yet.");
            return ExitCode.Done;
        });
        return command;
    }

    private static string Text(Coefficient c) =>
        string.Create(CultureInfo.InvariantCulture, $"{(c.Name.EndsWith(", 1", StringComparison.Ordinal) ? c.Name[..^3] : c.Name)} {c.Estimate:G4} ({c.StandardError:G2})");
}
