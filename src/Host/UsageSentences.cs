using System.CommandLine;
using System.Text.RegularExpressions;

namespace Vanehour.Host;

/// <summary>What is wrong with a command line, in words for a person rather than for a programmer.</summary>
internal static partial class UsageSentences
{
    public static IEnumerable<string> Of(ParseResult parsed, IReadOnlyCollection<string> args)
    {
        ArgumentNullException.ThrowIfNull(args);
        if (args.Count == 0)
        {
            return ["Name a command; 'vanehour demo' shows the whole job with a simulated fleet."];
        }

        var messages = parsed.Errors.Select(e => e.Message).Distinct(StringComparer.Ordinal).ToList();

        // The library complains of the missing command also where a wrong one was given.
        var others = messages.Where(m => m != "Required command was not provided.").ToList();
        return (others.Count > 0 ? others : messages).Select(Say);
    }

    private static string Say(string message) => TypeError().Match(message) is { Success: true } match
        ? $"'{match.Groups["value"].Value}' is not {Kind(match.Groups["type"].Value)} for {match.Groups["option"].Value}."
        : message;

    private static string Kind(string type) => type switch
    {
        _ when type.Contains("Int32", StringComparison.Ordinal) || type.Contains("Int64", StringComparison.Ordinal) => "a whole number that fits",
        _ when type.Contains("UnitSystem", StringComparison.Ordinal) => "one of Trade, Si",
        _ when type.Contains("PublishPace", StringComparison.Ordinal) => "one of Fast, Real",
        _ when type.Contains("FaultScenario", StringComparison.Ordinal) => "one of Default, None, Drift",
        _ => "a value that fits",
    };

    [GeneratedRegex("^Cannot parse argument '(?<value>.*)' for option '(?<option>[^']*)' as expected type '(?<type>.*)'")]
    private static partial Regex TypeError();
}
