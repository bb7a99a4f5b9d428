using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http;
using Vanehour.Board.Reading;
using Vanehour.Board.Serving;
using Vanehour.Fleet;
using Vanehour.Reports.Words;

namespace Vanehour.Board.Parts;

/// <summary>What every page has at hand.</summary>
public abstract class BoardPage : ComponentBase
{
    private FleetNow? now;

    [Inject]
    internal BoardFleet Fleet { get; set; } = null!;

    [Inject]
    internal FleetReader Reader { get; set; } = null!;

    [Inject]
    internal Visit Visit { get; set; } = null!;

    [Inject]
    internal NavigationManager Navigation { get; set; } = null!;

    /// <summary>The fleet; the same for the whole page.</summary>
    internal FleetNow Now => now ??= Reader.Now();

    /// <summary>The page's own path and question, for forms to come back to.</summary>
    internal string Here => "/" + Navigation.ToBaseRelativePath(Navigation.Uri).Split('#')[0];

    /// <summary>Whether a form of this page was just refused: then it is shown open, with what was typed.</summary>
    internal bool WasRefused(string form) => Visit.Said is { Done: false } said && said.Form == form;

    /// <summary>Answers that what is asked for is not there; the page itself says so in words.</summary>
    internal static void NotThere(HttpContext? context)
    {
        if (context is not null)
        {
            // At the last moment: the framework renders nothing for a request that is not found by then.
            context.Response.OnStarting(() =>
            {
                context.Response.StatusCode = StatusCodes.Status404NotFound;
                return Task.CompletedTask;
            });
        }
    }

    /// <summary>An instant as the truck's yard writes it.</summary>
    internal static string Yard(Truck? truck, DateTimeOffset at)
    {
        var local = truck is null ? at.UtcDateTime : TimeZoneInfo.ConvertTime(at, YardTime.ZoneOf(truck)).DateTime;
        return DateWords.DayAndTime(local) + (truck is null ? " UTC" : string.Empty);
    }

    /// <summary>A day as the truck's yard writes it.</summary>
    internal static string Day(Truck? truck, DateTimeOffset at) =>
        DateWords.Day(truck is null ? at.UtcDateTime : TimeZoneInfo.ConvertTime(at, YardTime.ZoneOf(truck)).DateTime);
}
