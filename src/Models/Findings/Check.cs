namespace Vanehour.Models.Findings;

/// <summary>A check a technician can make, and what to mind while making it.</summary>
/// <param name="Name">What to check; "check" in JSON.</param>
/// <param name="Caution">The caution that goes with it.</param>
public sealed record Check([property: System.Text.Json.Serialization.JsonPropertyName("check")] string Name, string Caution);
