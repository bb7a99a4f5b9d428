namespace Vanehour.Scoring.Policies;

/// <summary>What a policy cost.</summary>
/// <param name="Policy">The policy.</param>
/// <param name="Setting">What it was set to, for people; null where nothing is set.</param>
/// <param name="PlannedPerYear">Rebuilds before a failure, per truck-year.</param>
/// <param name="FailuresPerYear">Failures per truck-year.</param>
/// <param name="PastLimitPerYear">Pumps past the maker's limit when they were rebuilt or failed, per truck-year.</param>
/// <param name="CostPerYear">Cost per truck-year: rebuilds, failures, and the vane life used up at the end of what was not at its start, at the price of a planned rebuild.</param>
/// <param name="Low">Lower 95 % limit of the cost, from resampling trucks.</param>
/// <param name="High">Upper 95 % limit of the cost, from resampling trucks.</param>
public sealed record PolicyCost(PolicyName Policy, string? Setting, double PlannedPerYear, double FailuresPerYear, double PastLimitPerYear, double CostPerYear, double Low, double High);
