namespace Vanehour.Store.Influx;

/// <summary>A finding as dashboards are shown it.</summary>
/// <param name="Id">The finding's id.</param>
/// <param name="Truck">The truck, or null for a finding about the installation.</param>
/// <param name="Kind">Its kind.</param>
/// <param name="Urgency">Stop, Week or Later.</param>
/// <param name="Status">Open, Acknowledged or Closed.</param>
/// <param name="Since">When it opened.</param>
/// <param name="Closed">When it was closed, or null.</param>
/// <param name="Text">What it says, in words.</param>
public sealed record FindingCopy(
    string Id, string? Truck, string Kind, string Urgency, string Status, DateTimeOffset Since, DateTimeOffset? Closed, string Text);
