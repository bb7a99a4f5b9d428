namespace Vanehour.Models.Planning;

/// <summary>What one more slot in a week would save.</summary>
/// <param name="Yard">The yard.</param>
/// <param name="Week">The week in which it saves most.</param>
/// <param name="Saves">What it saves over the whole plan.</param>
/// <param name="Waiting">Jobs of the yard that are in a dearer week than their cheapest for want of a slot.</param>
public sealed record SlotPrice(string Yard, PlanWeek Week, double Saves, int Waiting);
