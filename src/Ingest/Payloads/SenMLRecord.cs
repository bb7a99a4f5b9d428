namespace Vanehour.Ingest.Payloads;

/// <summary>A resolved SenML record ([RFC8428] section 4.6): full name, absolute time, no base fields.</summary>
/// <param name="Name">Base name and name, joined.</param>
/// <param name="Unit">The unit, or null.</param>
/// <param name="TimeS">Unix seconds; exact to the digits that were sent.</param>
/// <param name="Kind">Which of the values is there.</param>
/// <param name="Number">The number, base value added; null unless <paramref name="Kind"/> says so.</param>
/// <param name="Text">The string (<c>vs</c>) or the base64url data (<c>vd</c>); null unless <paramref name="Kind"/> says so.</param>
/// <param name="Flag">The boolean; null unless <paramref name="Kind"/> says so.</param>
/// <param name="Sum">The integral over time, base sum added, or null.</param>
/// <param name="UpdateTimeS">Seconds until an updated reading can be expected at the latest, or null.</param>
public sealed record SenMLRecord(
    string Name, string? Unit, decimal TimeS, SenMLValueKind Kind, double? Number, string? Text, bool? Flag, double? Sum, decimal? UpdateTimeS);
