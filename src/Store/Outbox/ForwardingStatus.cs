using Vanehour.Store.Telemetry;

namespace Vanehour.Store.Outbox;

/// <summary>How forwarding is doing, as of one moment. Counts are since the start.</summary>
/// <param name="State">What it is doing.</param>
/// <param name="Problem">Why it does not get on, as a sentence that says what to do; null while it does.</param>
/// <param name="Backlog">What waits.</param>
/// <param name="Forwarded">Points that are on the server; samples of one truck and instant that waited together are one point.</param>
/// <param name="Refused">Points that the server will not have, kept in the rejects.</param>
/// <param name="LastForwarded">When points last got through; null where none did.</param>
public sealed record ForwardingStatus(
    ForwardingState State, string? Problem, ForwardingBacklog Backlog, long Forwarded, long Refused, DateTimeOffset? LastForwarded);
