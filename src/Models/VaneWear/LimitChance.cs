namespace Vanehour.Models.VaneWear;

/// <summary>How likely it is that the limit is reached, and that the pump has failed, by a date.</summary>
/// <param name="At">The date.</param>
/// <param name="Probability">Of the limit, 0..1.</param>
/// <param name="Failure">Of a failure by worn vanes, 0..1; at most <paramref name="Probability"/>.</param>
public sealed record LimitChance(DateTimeOffset At, double Probability, double Failure);
