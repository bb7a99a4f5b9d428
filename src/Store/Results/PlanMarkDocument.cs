namespace Vanehour.Store.Results;

/// <summary>A mark on the plan as kept.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Json">The mark.</param>
public sealed record PlanMarkDocument(long Id, string Json);
