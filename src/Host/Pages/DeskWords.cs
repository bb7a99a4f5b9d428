using System.Text.RegularExpressions;

namespace Vanehour.Host.Pages;

/// <summary>The command line's sentences for people who look at a page: its options by the names of the fields.</summary>
internal static partial class DeskWords
{
    /// <summary>A sentence with fields in place of options.</summary>
    public static string ForPeople(string sentence) => Option().Replace(sentence, option => option.Groups["name"].Value switch
    {
        "meter" => "PTO hours on the meter",
        "date" => "When",
        "value" => "Value",
        "unit" => "Its unit",
        "cause" => "What was found",
        "note" => "Note",
        "by" => "Your name",
        "yard" => "Only this yard",
        "truck" => "Truck",
        "pump-serial" => "Serial of the pump put on",
        "pump-model" => "Its model",
        _ => option.Value,
    });

    [GeneratedRegex("(?<![A-Za-z0-9-])--(?<name>[a-z]+(-[a-z]+)?)(?![a-z])")]
    private static partial Regex Option();
}
