namespace Vanehour.Store.Rejects;

/// <summary>A refused message or record as kept: the same one arriving again counts up.</summary>
/// <param name="Reject">The first of its kind.</param>
/// <param name="LastArrivedMs">When it arrived last, Unix ms.</param>
/// <param name="Times">How often it arrived.</param>
public sealed record StoredReject(Reject Reject, long LastArrivedMs, long Times);
