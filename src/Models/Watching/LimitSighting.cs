using Vanehour.Models.Findings;

namespace Vanehour.Models.Watching;

/// <summary>A limit passed for longer than it may be.</summary>
/// <param name="Kind">Which limit, as the kind of finding that it is.</param>
/// <param name="Seen">What was seen.</param>
/// <param name="IsOver">Whether the value has come back, the pump stopped, or the feed fell silent; else it goes on.</param>
public sealed record LimitSighting(FindingKind Kind, WatchedLimit Seen, bool IsOver);
