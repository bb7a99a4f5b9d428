using System.Text.Json.Serialization;

namespace Vanehour.Simulator.Publishing;

/// <summary>What a resume file holds.</summary>
/// <param name="Fingerprint">Of the fleet whose messages were published.</param>
/// <param name="Acknowledged">How many of its messages, from the first, the broker has acknowledged.</param>
internal sealed record ResumeState(
    [property: JsonPropertyName("fingerprint"), JsonRequired] string Fingerprint,
    [property: JsonPropertyName("acknowledged"), JsonRequired] long Acknowledged);
