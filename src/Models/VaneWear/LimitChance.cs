namespace Vanehour.Models.VaneWear;

/// <summary>How likely it is that the limit is reached by a date.</summary>
/// <param name="At">The date.</param>
/// <param name="Probability">0..1.</param>
public sealed record LimitChance(DateTimeOffset At, double Probability);
