namespace Vanehour.Scoring;

/// <summary>An estimate with its 95 % interval from resampling trucks; null where there is nothing to estimate from.</summary>
/// <param name="Low">2.5 % quantile.</param>
/// <param name="Mid">The estimate.</param>
/// <param name="High">97.5 % quantile.</param>
public sealed record ShareWithInterval(double? Low, double? Mid, double? High);
