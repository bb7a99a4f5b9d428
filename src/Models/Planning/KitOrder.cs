namespace Vanehour.Models.Planning;

/// <summary>Rebuild kits to order.</summary>
/// <param name="PumpModel">The pump model.</param>
/// <param name="Count">How many.</param>
/// <param name="OrderBy">The last week in which the order is in time.</param>
/// <param name="For">The week of the jobs that need them.</param>
public sealed record KitOrder(string PumpModel, int Count, PlanWeek OrderBy, PlanWeek For);
