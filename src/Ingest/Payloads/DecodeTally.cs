namespace Vanehour.Ingest.Payloads;

/// <summary>What one payload held.</summary>
/// <param name="Samples">Samples made.</param>
/// <param name="Records">Records read, good and bad.</param>
/// <param name="BaseOnly">Records with base fields only.</param>
/// <param name="LeftOut">Records of metrics that the settings leave out.</param>
/// <param name="Rejected">Records refused; 1 when the payload as a whole was.</param>
public readonly record struct DecodeTally(int Samples, int Records, int BaseOnly, int LeftOut, int Rejected);
