namespace Vanehour.Models.Analysis;

/// <summary>What is known of a truck's feed beside its runs.</summary>
/// <param name="LastHeard">The latest instant of any sample, or null where none was ever stored.</param>
/// <param name="ClockRejects">How many times records were refused in the last seven days because their instants were in the future or before 2000.</param>
/// <param name="LastClockReject">When such a record last arrived; null where none did.</param>
public sealed record FeedSigns(DateTimeOffset? LastHeard, long ClockRejects, DateTimeOffset? LastClockReject);
