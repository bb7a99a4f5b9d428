namespace Vanehour.Ingest.Payloads;

/// <summary>A SenML pack, resolved.</summary>
/// <param name="Records">The good records in order of time; those of one time in the order of the pack. Empty when the pack is refused.</param>
/// <param name="Faults">The bad records, in the order of the pack.</param>
/// <param name="BaseOnly">How many records held base fields only.</param>
/// <param name="Version">The version of all its records.</param>
/// <param name="Refusal">Why the whole pack is refused, or null.</param>
public sealed record SenMLPack(
    IReadOnlyList<SenMLRecord> Records, IReadOnlyList<SenMLFault> Faults, int BaseOnly, int Version, SenMLFault? Refusal);
