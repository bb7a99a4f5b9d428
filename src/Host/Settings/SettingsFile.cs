using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.Extensions.Configuration;
using Vanehour.Board;
using Vanehour.Host.Composition;

namespace Vanehour.Host.Settings;

/// <summary>Reads the settings: vanehour.json in the data folder, overridden by environment variables VANEHOUR__SECTION__KEY.</summary>
public static partial class SettingsFile
{
    /// <summary>The file's name in the data folder.</summary>
    public const string Name = "vanehour.json";

    private const string Prefix = "VANEHOUR__";

    /// <summary>Every section that may stand in the settings.</summary>
    private static readonly string[] Sections = ["Ingest", "Runs", "Analysis", "Display", "Serve", "Store", "Watch", "Notices", "Life", PlanJob.Section, RoundSettings.Section, BoardOptions.Section];

    /// <summary>Reads the settings of a data folder.</summary>
    /// <exception cref="CommandFailedException">The file is not JSON, or holds a section we do not know.</exception>
    public static IConfigurationRoot Read(string folder)
    {
        var path = Path.GetFullPath(Path.Combine(folder, Name));
        IConfigurationRoot configuration;
        try
        {
            configuration = new ConfigurationBuilder()
                .AddJsonFile(path, optional: true, reloadOnChange: false)
                .AddEnvironmentVariables(Prefix)
                .Build();
        }
        catch (InvalidDataException e)
        {
            var detail = e.InnerException is FormatException { InnerException: JsonException json } ? $" (line {json.LineNumber + 1})" : string.Empty;
            throw new CommandFailedException($"The settings file {path} is not valid JSON{detail}; correct it or move it away.", e);
        }

        foreach (var section in configuration.GetChildren())
        {
            if (!Sections.Contains(section.Key, StringComparer.OrdinalIgnoreCase))
            {
                throw new CommandFailedException(
                    $"The settings hold a section '{section.Key}' that does not exist; the sections are {string.Join(", ", Sections)}.");
            }
        }

        return configuration;
    }

    /// <summary>Binds a section; a key that the options do not have is an error, not a silent typo.</summary>
    /// <exception cref="CommandFailedException">An unknown key, or a value of the wrong type.</exception>
    public static T Bind<T>(IConfiguration configuration, string section)
        where T : class, new()
    {
        ArgumentNullException.ThrowIfNull(configuration);
        var options = new T();
        try
        {
            configuration.GetSection(section).Bind(options, binder => binder.ErrorOnUnknownConfiguration = true);
        }
        catch (InvalidOperationException e)
        {
            throw new CommandFailedException($"The settings section {section} cannot be used: {Reason(e)}", e);
        }

        return options;
    }

    [GeneratedRegex("^Failed to convert configuration value '(?<value>.*)' at '(?<key>[^']*)' to type '(?<type>[^']*)'")]
    private static partial Regex WrongValue();

    private static string Reason(InvalidOperationException error)
    {
        // What lies below a dictionary is wrapped in sentences that say less.
        while (error.InnerException is InvalidOperationException inner)
        {
            error = inner;
        }

        // The binder's sentence for unknown keys speaks of its own options; only the names at its end help a person.
        var names = error.Message.LastIndexOf(": ", StringComparison.Ordinal);
        if (WrongValue().Match(error.Message) is { Success: true } match)
        {
            var kind = match.Groups["type"].Value switch
            {
                "System.Int32" or "System.Int64" or "System.Nullable`1[System.Int32]" => "a whole number",
                "System.Double" or "System.Nullable`1[System.Double]" => "a number",
                "System.Boolean" or "System.Nullable`1[System.Boolean]" => "true or false",
                "System.TimeSpan" => "a time as 00:00:30",
                var type when type.EndsWith(nameof(UnitSystem), StringComparison.Ordinal) => "Trade or Si",
                _ => "a value that fits",
            };
            return $"'{match.Groups["value"].Value}' at {match.Groups["key"].Value} is not {kind}.";
        }

        return error.Message.Contains("ErrorOnUnknownConfiguration", StringComparison.Ordinal) && names >= 0
            ? $"there is no key {error.Message[(names + 2)..]}."
            : error.Message;
    }
}
