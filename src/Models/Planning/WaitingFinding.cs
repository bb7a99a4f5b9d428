using Vanehour.Models.Findings;

namespace Vanehour.Models.Planning;

/// <summary>An open finding that nobody has acknowledged.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Truck">The truck.</param>
/// <param name="Kind">Its kind.</param>
/// <param name="Urgency">Its urgency.</param>
/// <param name="Since">The first instant whose data shows it.</param>
public sealed record WaitingFinding(string Id, string Truck, FindingKind Kind, Urgency Urgency, DateTimeOffset Since);
