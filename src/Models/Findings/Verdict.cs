using Vanehour.Fleet;

namespace Vanehour.Models.Findings;

/// <summary>What a person says was really found.</summary>
/// <param name="Cause">The cause; null means that the person looked and nothing was wrong.</param>
/// <param name="By">Who; null where it was not said.</param>
/// <param name="Note">What else there is to say; null where nothing is.</param>
public sealed record Verdict(Cause? Cause, string? By, string? Note);
