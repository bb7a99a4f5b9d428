using Vanehour.Fleet;

namespace Vanehour.Scoring.Drills;

/// <summary>What one person answered.</summary>
/// <param name="By">Who.</param>
/// <param name="Truck">Which truck.</param>
/// <param name="Cause">What is wrong with it; null: nothing is.</param>
/// <param name="Action">What to do about it.</param>
/// <param name="Note">What else there is to say.</param>
/// <param name="At">When.</param>
/// <param name="Attempts">How many answers this person has given, 1 or more; the last one counts.</param>
public sealed record DrillAnswer(string By, string Truck, Cause? Cause, DrillAction Action, string? Note, DateTimeOffset At, int Attempts);
