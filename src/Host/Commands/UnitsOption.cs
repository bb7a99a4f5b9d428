using System.CommandLine;
using Vanehour.Host.Settings;

namespace Vanehour.Host.Commands;

/// <summary>The option that overrides the setting Display:Units.</summary>
public sealed class UnitsOption
{
    private readonly Option<UnitSystem?> units = new("--units") { Description = "Trade (inHg, psi, degF, qt) or Si (kPa, Cel, L); default as set.", HelpName = "Trade|Si" };

    /// <summary>Adds the option to a command.</summary>
    public void AddTo(Command command)
    {
        ArgumentNullException.ThrowIfNull(command);
        command.Options.Add(units);
    }

    /// <summary>What was asked for, or else set for the data folder.</summary>
    public DisplaySettings Get(ParseResult parsed, string folder)
    {
        ArgumentNullException.ThrowIfNull(parsed);
        var settings = SettingsFile.Bind<DisplaySettings>(SettingsFile.Read(folder), "Display");
        if (parsed.GetValue(units) is { } asked)
        {
            settings.Units = asked;
        }

        return settings;
    }
}
