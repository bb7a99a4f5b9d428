using System.Text.Json.Serialization;

namespace Vanehour.Store.Influx;

/// <summary>What one worker forwarded of one truck since its note before.</summary>
/// <param name="Truck">The truck's id.</param>
/// <param name="Added">Samples that were new.</param>
/// <param name="FirstMs">The earliest instant forwarded, Unix ms.</param>
/// <param name="LastMs">The latest instant forwarded, Unix ms.</param>
/// <param name="TouchedMs">The earliest instant that changed, Unix ms; null where nothing did.</param>
internal sealed record ForwardedTruck(
    [property: JsonPropertyName("truck")] string Truck,
    [property: JsonPropertyName("added")] long Added,
    [property: JsonPropertyName("first")] long FirstMs,
    [property: JsonPropertyName("last")] long LastMs,
    [property: JsonPropertyName("touched")] long? TouchedMs);
