namespace Vanehour.Models.Planning;

/// <summary>What a rebuild in a week would mean for one pump.</summary>
/// <param name="Week">The week.</param>
/// <param name="ChanceBefore">Chance that wear is at its limit before it, 0..1.</param>
/// <param name="ChanceOfFailure">Chance that the pump fails before it, 0..1.</param>
/// <param name="Cost">Expected cost.</param>
/// <param name="More">What it costs more than where the plan has it; below 0 where it is cheaper.</param>
/// <param name="WhyNot">What stands against it, or who is there already; null where it is free.</param>
public sealed record WeekOption(PlanWeek Week, double ChanceBefore, double ChanceOfFailure, double Cost, double More, string? WhyNot);
