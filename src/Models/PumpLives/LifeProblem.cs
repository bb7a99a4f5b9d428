namespace Vanehour.Models.PumpLives;

/// <summary>A life, or a record of one, that contradicts itself or another; it is left out and reported, not guessed at.</summary>
/// <param name="Truck">The truck.</param>
/// <param name="PumpSerial">The pump; null where the record belongs to none.</param>
/// <param name="PumpModel">Its model; null where the record belongs to none.</param>
/// <param name="At">When.</param>
/// <param name="Why">What is wrong, in a sentence.</param>
public sealed record LifeProblem(string Truck, string? PumpSerial, string? PumpModel, DateTimeOffset At, string Why);
