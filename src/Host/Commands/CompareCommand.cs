using System.CommandLine;
using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Host.Output;
using Vanehour.Models.PumpLives;

namespace Vanehour.Host.Commands;

/// <summary>Compares pump models by how long they last.</summary>
internal static class CompareCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var listing = new ListingOptions();
        var filter = new TruckFilter();
        var command = new Command(
            "compare",
            "Compare pump models by how long they last, from the service records: each pair differs, shows no evidence of a difference, or has too few lives to say.\n\nExample: vanehour compare");
        listing.AddTo(command);
        filter.AddTo(command);
        command.SetAction((parsed, cancellationToken) =>
        {
            var (table, options) = LifeReading.Of(parsed, globals, filter, environment, cancellationToken);
            var comparison = new LifeComparer(options).Of(table);
            var format = listing.Format(parsed);
            if (format == ListingFormat.Json)
            {
                environment.Out.WriteLine(JsonSerializer.Serialize(ComparisonJson.Of(comparison), HostJson.Default.ComparisonJson));
                return Task.FromResult(ExitCode.Done);
            }

            Listing.Write(
                environment.Out, format, comparison.Models, LifeCommand.Columns, (JsonTypeInfo<IReadOnlyList<ModelLife>>)HostJson.Default.IReadOnlyListModelLife, "No life to compare.");
            if (format == ListingFormat.Table)
            {
                Explain(environment.Out, comparison);
            }

            return Task.FromResult(ExitCode.Done);
        });
        return command;
    }

    private static void Explain(TextWriter output, LifeComparison comparison)
    {
        if (comparison.LogRank is { P: { } p } test)
        {
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"All models alike: log-rank chi-square {test.ChiSquare:F1} with {test.DegreesOfFreedom} degrees of freedom, p {p:G2}."));
        }

        foreach (var pair in comparison.Pairs)
        {
            output.WriteLine(pair.Sentence);
        }

        if (comparison.Pairs.Length > 0)
        {
            output.WriteLine("Lives alone are compared: not yet oil per hour, wear per 1000 h and cost per PTO hour. Pumps of two models may work under different loads.");
        }
    }
}
