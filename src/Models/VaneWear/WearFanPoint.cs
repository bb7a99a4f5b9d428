namespace Vanehour.Models.VaneWear;

/// <summary>Where wear is expected to be at a time ahead (or, for the past part of the line, was).</summary>
/// <param name="At">The date, by the truck's own usage.</param>
/// <param name="HoursSinceFitting">PTO hours of the life, h.</param>
/// <param name="Low">10 % quantile of wear.</param>
/// <param name="Mid">50 % quantile of wear.</param>
/// <param name="High">90 % quantile of wear.</param>
public sealed record WearFanPoint(DateTimeOffset At, double HoursSinceFitting, double Low, double Mid, double High);
