using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;

namespace Vanehour.Host;

/// <summary>The list of commands in the root's help has a line for each; their examples stand in their own help.</summary>
internal sealed class ShortHelp(HelpAction help) : SynchronousCommandLineAction
{
    /// <inheritdoc/>
    public override bool ClearsParseErrors => true;

    /// <summary>Puts it in the place of the root's help.</summary>
    public static void Apply(RootCommand root)
    {
        var option = root.Options.OfType<HelpOption>().Single();
        if (option.Action is HelpAction help)
        {
            option.Action = new ShortHelp(help);
        }
    }

    /// <inheritdoc/>
    public override int Invoke(ParseResult parseResult)
    {
        if (parseResult.CommandResult.Command is RootCommand root)
        {
            foreach (var command in root.Subcommands)
            {
                command.Description = command.Description?.Split('\n')[0];
            }
        }

        return help.Invoke(parseResult);
    }
}
