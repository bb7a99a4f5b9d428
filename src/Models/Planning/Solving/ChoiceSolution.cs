using System.Collections.Immutable;

namespace Vanehour.Models.Planning.Solving;

/// <summary>What each item takes.</summary>
/// <param name="Taken">The index of the choice of each item.</param>
/// <param name="Cost">Of all.</param>
/// <param name="Bound">No solution costs less; equal to <paramref name="Cost"/>, but for rounding, where this is proven the best.</param>
internal sealed record ChoiceSolution(ImmutableArray<int> Taken, double Cost, double Bound);
