namespace Vanehour.Models.Planning;

/// <summary>What a policy costs by the lives of a pump model.</summary>
/// <param name="PumpModel">The pump model.</param>
/// <param name="Policy">The policy.</param>
/// <param name="AgeH">Age at which pumps are rebuilt, PTO hours, h; null where there is none.</param>
/// <param name="PlannedPerYear">Rebuilds before a failure, per truck-year.</param>
/// <param name="FailuresPerYear">Failures per truck-year.</param>
/// <param name="CostPerYear">Cost per truck-year.</param>
/// <param name="TruckYears">Years under observation.</param>
public sealed record HistoryCost(string PumpModel, HistoryPolicy Policy, double? AgeH, double PlannedPerYear, double FailuresPerYear, double CostPerYear, double TruckYears);
