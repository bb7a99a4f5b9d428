namespace Vanehour.Fleet.Servicing;

/// <summary>What became of a wish to add, edit or delete a service record.</summary>
/// <param name="Kind">What became of it.</param>
/// <param name="Before">The record as it was; null where there was none.</param>
/// <param name="After">The record as it is now; null where there is none.</param>
/// <param name="Refusal">One sentence that says why not and what to do; null where <paramref name="Kind"/> is Done or Unchanged.</param>
public sealed record ServiceOutcome(ServiceOutcomeKind Kind, ServiceRecord? Before, ServiceRecord? After, string? Refusal)
{
    internal static ServiceOutcome Refused(string sentence) => new(ServiceOutcomeKind.Refused, null, null, sentence);
}
