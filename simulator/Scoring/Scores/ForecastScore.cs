namespace Vanehour.Scoring;

/// <summary>How well the wear limit was forecast from one distance.</summary>
/// <param name="AheadH">PTO hours that were truly left.</param>
/// <param name="Lives">How many lives were forecast from there.</param>
/// <param name="Coverage80">Share of them whose truth lay between the 10 % and the 90 % quantile, with its interval over trucks.</param>
/// <param name="MedianRelativeError">Median of |median forecast - truth| / truth; null without any median inside the horizon.</param>
public sealed record ForecastScore(double AheadH, int Lives, ShareWithInterval Coverage80, double? MedianRelativeError);
