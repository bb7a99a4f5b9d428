using System.CommandLine;
using Vanehour.Fleet.Import;

namespace Vanehour.Host.Commands;

/// <summary>An option that takes an ISO 8601 date or date-time; without an offset it is UTC.</summary>
public static class InstantOption
{
    /// <summary>Makes the option.</summary>
    public static Option<DateTimeOffset?> Create(string name, string description) => new(name)
    {
        Description = description,
        HelpName = "INSTANT",
        CustomParser = result =>
        {
            var text = result.Tokens.Count == 1 ? result.Tokens[0].Value : string.Empty;
            if (LocalInstant.TryParse(text, TimeZoneInfo.Utc, out var instant))
            {
                return instant;
            }

            result.AddError($"'{text}' is not a date (as 2026-03-09) or date-time (as 2026-03-09T07:30:00Z) for {name}.");
            return null;
        },
    };
}
