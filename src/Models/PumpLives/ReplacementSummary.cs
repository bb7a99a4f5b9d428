namespace Vanehour.Models.PumpLives;

/// <summary>The age at which a planned rebuild costs least in the long run, if nothing but age were known.</summary>
/// <param name="CostRatio">What a failure costs over what a planned rebuild costs.</param>
/// <param name="AgeH">PTO hours, h; null when waiting for the failure costs least.</param>
/// <param name="Saving">Share of the cost of running to failure that is saved, 0..1.</param>
/// <param name="FailureShare">Share of pumps that still fail before that age, 0..1.</param>
/// <param name="CostPerH">Cost per PTO hour at that policy, in planned rebuilds.</param>
public sealed record ReplacementSummary(double CostRatio, double? AgeH, double Saving, double FailureShare, double CostPerH);
