using System.Globalization;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Vanehour.Board.Reading;
using Vanehour.Models.Findings;
using Vanehour.Reports.Trucks;
using Vanehour.Reports.Words;

namespace Vanehour.Board.Serving;

/// <summary>The tables of pages that are no listing of the command line, as CSV.</summary>
internal static class Tables
{
    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapGet("/tables/trend.csv", (string truck, BoardFleet fleet, FleetReader reader, ChartDrawing drawing) =>
        {
            if (reader.Now() is not { } now || !now.ById.TryGetValue(truck, out var found) || drawing.TruckData(found, now) is not { } data)
            {
                return Results.NotFound();
            }

            var trend = TruckTrend.Of(data, fleet.Drawing);
            return Csv($"trend-{found.Id}", [trend.BinName, .. trend.Columns], trend.Rows.Select(r => (IEnumerable<string>)[r.From, .. r.Values]));
        });
        routes.MapGet("/tables/causes.csv", (string finding, BoardFleet fleet) =>
            new FindingBook(fleet.Findings).All().FirstOrDefault(f => f.Id == finding) is not { } found ? Results.NotFound() : Csv(
                "causes",
                ["cause", "weight", "for", "against"],
                found.Causes.Select(c => (IEnumerable<string>)[c.Cause.ToString(), c.Weight.ToString("0.####", CultureInfo.InvariantCulture), string.Join(' ', c.For), string.Join(' ', c.Against)])));
        routes.MapGet("/tables/feeds.csv", async (Heard heard, FleetReader reader, HttpContext context) =>
        {
            var trucks = await heard.TrucksAsync(context.RequestAborted);
            var known = reader.Now().ById;
            return Csv(
                "feeds",
                ["truck", "first", "last", "samples", "registered"],
                trucks.Select(t => (IEnumerable<string>)[t.Truck, Instant(t.First), Instant(t.Last), t.Samples.ToString(CultureInfo.InvariantCulture), known.ContainsKey(t.Truck) ? "yes" : "no"]));
        });
    }

    private static string Instant(DateTimeOffset at) => at.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    private static IResult Csv(string name, IEnumerable<string> head, IEnumerable<IEnumerable<string>> rows)
    {
        var text = new StringBuilder();
        foreach (var row in rows.Prepend(head))
        {
            text.AppendJoin(',', row.Select(CsvField.Of)).Append('\n');
        }

        return Results.File(Encoding.UTF8.GetBytes(text.ToString()), "text/csv; charset=utf-8", name + ".csv");
    }
}
