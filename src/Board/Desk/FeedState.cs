namespace Vanehour.Board.Desk;

/// <summary>How the intake was doing when it last said so.</summary>
/// <param name="WrittenAt">When it said so.</param>
/// <param name="Problem">Why it does not take in the feed, in words; null while it does.</param>
/// <param name="Backlog">Messages received and not yet stored.</param>
/// <param name="SamplesStored">Samples stored since it started.</param>
public sealed record FeedState(DateTimeOffset WrittenAt, string? Problem, long Backlog, long SamplesStored);
