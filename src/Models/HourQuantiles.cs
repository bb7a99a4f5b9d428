namespace Vanehour.Models;

/// <summary>Quantiles of a number of PTO hours; null lies beyond the horizon.</summary>
/// <param name="P10">10 % quantile, h.</param>
/// <param name="P50">Median, h.</param>
/// <param name="P90">90 % quantile, h.</param>
public sealed record HourQuantiles(double? P10, double? P50, double? P90);
