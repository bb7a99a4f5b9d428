using System.Collections.Immutable;

namespace Vanehour.Models.Planning.Solving;

/// <summary>One way to settle an item.</summary>
/// <param name="Cost">What it costs; finite.</param>
/// <param name="Uses">The resources it takes one unit of each, by index.</param>
internal sealed record Choice(double Cost, ImmutableArray<int> Uses);
