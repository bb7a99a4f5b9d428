using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Vanehour.Board.Desk;
using Vanehour.Board.Reading;

namespace Vanehour.Board.Serving;

/// <summary>The data for programs: what the command line writes with --json, --csv and --calendar, under the same names.</summary>
internal static class Api
{
    /// <param name="waited">Where what may be waited for is mapped: it is worked out elsewhere, and waiting takes nothing.</param>
    /// <param name="made">Where the rest is mapped, so many at a time.</param>
    public static void Map(IEndpointRouteBuilder waited, IEndpointRouteBuilder made)
    {
        foreach (var list in Enum.GetValues<DeskList>())
        {
            var name = list.ToString().ToLowerInvariant();
            var routes = list is DeskList.Compare or DeskList.Life or DeskList.Models ? waited : made;
            routes.MapGet($"/api/{name}", (string? truck, string? yard, BoardFleet fleet, HttpContext context) => AnswerAsync(fleet, list, truck, yard, DeskFormat.Json, context));
            routes.MapGet($"/tables/{name}.csv", (string? truck, string? yard, BoardFleet fleet, HttpContext context) => AnswerAsync(fleet, list, truck, yard, DeskFormat.Csv, context));
        }

        made.MapGet("/calendars/plan.ics", (BoardFleet fleet, HttpContext context) => AnswerAsync(fleet, DeskList.Plan, null, null, DeskFormat.Calendar, context));
        made.MapGet("/calendars/rounds.ics", (string? truck, string? yard, BoardFleet fleet, HttpContext context) => AnswerAsync(fleet, DeskList.Rounds, truck, yard, DeskFormat.Calendar, context));

        // What the pages ask every few seconds: whether there is anything new to show.
        waited.MapGet("/api/stamp", (FleetReader reader, BoardFleet fleet, string? of) =>
            Results.Text($"{{\"stamp\":\"{reader.StampOf(of)}\",\"analysing\":{(fleet.Desk.IsAnalysing ? "true" : "false")}}}", "application/json"));
    }

    private static async Task<IResult> AnswerAsync(BoardFleet fleet, DeskList list, string? truck, string? yard, DeskFormat format, HttpContext context)
    {
        var file = await fleet.Desk.ExportAsync(new DeskQuery(list, truck, yard), format, context.RequestAborted);
        if (file.Text is not { } text)
        {
            return Results.Problem(detail: file.Problem ?? "It could not be made.", statusCode: file.IsAskedWrongly ? StatusCodes.Status400BadRequest : StatusCodes.Status404NotFound);
        }

        var name = $"{list.ToString().ToLowerInvariant()}{(truck is null ? "" : "-" + truck)}";
        return format switch
        {
            DeskFormat.Json => Results.Text(text, "application/json", Encoding.UTF8),
            DeskFormat.Csv => Results.File(Encoding.UTF8.GetBytes(text), "text/csv; charset=utf-8", name + ".csv"),
            _ => Results.File(Encoding.UTF8.GetBytes(text), "text/calendar; charset=utf-8", name + ".ics"),
        };
    }
}
