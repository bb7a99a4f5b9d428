using System.Collections.Immutable;

namespace Vanehour.Fleet.Servicing;

/// <summary>Something in the records that cannot all be true.</summary>
/// <param name="Identity">The same for the same contradiction between the same records.</param>
/// <param name="Truck">The truck.</param>
/// <param name="Tokens">The records it lies between.</param>
/// <param name="Column">The column of a service file that is most likely wrong.</param>
/// <param name="Sentence">Why, and what to do.</param>
internal sealed record Contradiction(string Identity, string Truck, ImmutableArray<string> Tokens, string Column, string Sentence);
