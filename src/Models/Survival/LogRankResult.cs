using System.Collections.Immutable;

namespace Vanehour.Models.Survival;

/// <summary>What a log-rank test says.</summary>
/// <param name="Observed">Failures seen in each group.</param>
/// <param name="Expected">Failures expected in each if all were alike.</param>
/// <param name="ChiSquare">The statistic; 0 when nothing can be compared.</param>
/// <param name="DegreesOfFreedom">Groups that can be compared, less one; 0 when nothing can.</param>
/// <param name="P">Chance of so large a statistic if all groups were alike; null when nothing can be compared.</param>
public sealed record LogRankResult(ImmutableArray<int> Observed, ImmutableArray<double> Expected, double ChiSquare, int DegreesOfFreedom, double? P);
