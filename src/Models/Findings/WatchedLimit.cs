namespace Vanehour.Models.Findings;

/// <summary>A limit of the pump model that the watch of new samples saw passed for longer than is allowed.</summary>
/// <param name="From">When the value rose above the limit, or when a person closed an earlier finding in the midst of it.</param>
/// <param name="LastSeen">The last instant seen above it so far.</param>
/// <param name="Peak">The highest value meanwhile, in the unit of <paramref name="Unit"/>.</param>
/// <param name="Limit">The pump model's limit in the same unit.</param>
/// <param name="Unit">The unit's symbol.</param>
/// <param name="HoldS">How long it may be passed, s; from the settings.</param>
public sealed record WatchedLimit(DateTimeOffset From, DateTimeOffset LastSeen, double Peak, double Limit, string Unit, double HoldS);
