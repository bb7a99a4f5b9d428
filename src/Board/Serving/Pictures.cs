using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Vanehour.Board.Reading;
using Vanehour.Reports.Planning;
using Vanehour.Reports.Trucks;

namespace Vanehour.Board.Serving;

/// <summary>The pictures as PNG, drawn when asked for: no file is ever served by a name from outside.</summary>
internal static class Pictures
{
    /// <param name="waited">Where what may be waited for is mapped: it is drawn elsewhere.</param>
    /// <param name="routes">Where the rest is mapped, so many at a time.</param>
    public static void Map(IEndpointRouteBuilder waited, IEndpointRouteBuilder routes)
    {
        routes.MapGet("/pictures/truck/{id}.png", (string id, BoardFleet fleet, FleetReader reader, ChartDrawing drawing) =>
            reader.Now() is { } now && now.ById.TryGetValue(id, out var truck) && drawing.TruckData(truck, now) is { } data
                ? Results.Bytes(TruckReport.Render(data, fleet.Drawing), "image/png", $"truck-{id}.png")
                : Results.NotFound());
        routes.MapGet("/pictures/plan.png", (BoardFleet fleet, FleetReader reader, ChartDrawing drawing) =>
            drawing.PlanData(reader.Now()) is { } data ? Results.Bytes(PlanReport.Render(data, fleet.Drawing), "image/png", "rebuild-plan.png") : Results.NotFound());
        waited.MapGet("/pictures/models.png", async (BoardFleet fleet, HttpContext context) =>
            await fleet.Desk.ComparisonPngAsync(context.RequestAborted) is { } png ? Results.Bytes(png, "image/png", "pump-models.png") : Results.NotFound());
    }
}
