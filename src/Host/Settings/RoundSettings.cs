using Microsoft.Extensions.Configuration;
using Vanehour.Models.Rounds;

namespace Vanehour.Host.Settings;

/// <summary>How rounds are counted, section <c>Rounds</c>.</summary>
internal static class RoundSettings
{
    public const string Section = "Rounds";

    /// <summary>Reads the section.</summary>
    /// <exception cref="CommandFailedException">It cannot be used.</exception>
    public static RoundOptions Read(IConfiguration settings)
    {
        var options = SettingsFile.Bind<RoundOptions>(settings, Section);
        return options.Problems().ToList() is { Count: > 0 } problems
            ? throw new CommandFailedException($"The settings section {Section} cannot be used: {string.Join(" ", problems)}")
            : options;
    }
}
