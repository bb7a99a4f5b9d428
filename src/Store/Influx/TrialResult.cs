namespace Vanehour.Store.Influx;

/// <summary>One thing that was tried with a server.</summary>
/// <param name="Name">What, in words.</param>
/// <param name="Problem">Why it failed, as a sentence; null where it did not.</param>
/// <param name="Remark">What else was seen; null where nothing was.</param>
public sealed record TrialResult(string Name, string? Problem, string? Remark = null);
