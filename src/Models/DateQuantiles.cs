namespace Vanehour.Models;

/// <summary>Quantiles of an instant; null lies beyond the horizon.</summary>
/// <param name="P10">10 % quantile.</param>
/// <param name="P50">Median.</param>
/// <param name="P90">90 % quantile.</param>
public sealed record DateQuantiles(DateTimeOffset? P10, DateTimeOffset? P50, DateTimeOffset? P90);
