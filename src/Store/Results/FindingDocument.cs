namespace Vanehour.Store.Results;

/// <summary>A finding as kept: the columns that are searched, and the whole as JSON.</summary>
/// <param name="Id">The finding's id.</param>
/// <param name="Truck">The truck, or null for a finding about the installation.</param>
/// <param name="Kind">Its kind.</param>
/// <param name="Status">Open, Acknowledged or Closed.</param>
/// <param name="SinceMs">When it opened, Unix ms.</param>
/// <param name="Json">The finding.</param>
public sealed record FindingDocument(string Id, string? Truck, string Kind, string Status, long SinceMs, string Json);
