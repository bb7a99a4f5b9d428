using System.Collections.Immutable;
using Vanehour.Models.Survival;

namespace Vanehour.Models.PumpLives;

/// <summary>Pump models compared by how long they last.</summary>
/// <param name="Models">Each model, in order of name.</param>
/// <param name="LogRank">All of them at once; null with fewer than two, or too few failures to test.</param>
/// <param name="Pairs">Each pair.</param>
public sealed record LifeComparison(ImmutableArray<ModelLife> Models, LogRankResult? LogRank, ImmutableArray<LifePair> Pairs);
