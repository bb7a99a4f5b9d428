using System.Collections.Immutable;

namespace Vanehour.Models.Planning.Solving;

/// <summary>Items that each take exactly one of their choices, under resources of which there is only so much. Knows no pumps.</summary>
/// <param name="Items">The choices of each item; none is empty.</param>
/// <param name="Capacities">Units of each resource, 0 or more.</param>
internal sealed record ChoiceProblem(ImmutableArray<ImmutableArray<Choice>> Items, ImmutableArray<int> Capacities);
