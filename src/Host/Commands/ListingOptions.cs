using System.CommandLine;
using Vanehour.Host.Output;

namespace Vanehour.Host.Commands;

/// <summary>The options that every listing takes: how it is written.</summary>
public sealed class ListingOptions
{
    private readonly Option<bool> json = new("--json") { Description = "Write JSON." };
    private readonly Option<bool> csv = new("--csv") { Description = "Write CSV." };

    /// <summary>Adds the options to a command.</summary>
    public void AddTo(Command command)
    {
        ArgumentNullException.ThrowIfNull(command);
        command.Options.Add(json);
        command.Options.Add(csv);
        command.Validators.Add(result =>
        {
            if (result.GetValue(json) && result.GetValue(csv))
            {
                result.AddError("Choose one of --json and --csv.");
            }
        });
    }

    /// <summary>What was asked for.</summary>
    public ListingFormat Format(ParseResult parsed)
    {
        ArgumentNullException.ThrowIfNull(parsed);
        return parsed.GetValue(json) ? ListingFormat.Json : parsed.GetValue(csv) ? ListingFormat.Csv : ListingFormat.Table;
    }
}
