namespace Vanehour.Ingest.Payloads;

/// <summary>A unit of the SenML registry: primary value = value * <paramref name="Scale"/> + <paramref name="Offset"/>.</summary>
/// <param name="Symbol">The symbol; case matters.</param>
/// <param name="Description">What it is.</param>
/// <param name="Primary">The symbol of the primary unit it stands for; its own for a primary unit.</param>
/// <param name="Scale">Primary units per unit.</param>
/// <param name="Offset">Primary value of zero units.</param>
/// <param name="NotRecommended">Whether the registry advises producers against it.</param>
public sealed record SenMLUnit(string Symbol, string Description, string Primary, double Scale, double Offset, bool NotRecommended);
