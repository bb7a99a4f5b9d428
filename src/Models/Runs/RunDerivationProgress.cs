namespace Vanehour.Models.Runs;

/// <summary>How far a derivation of runs has come.</summary>
/// <param name="Truck">The truck that was just derived.</param>
/// <param name="TrucksDone">How many are done, this one included.</param>
/// <param name="TrucksInAll">How many there are to do.</param>
/// <param name="SamplesRead">Samples read so far, over all trucks.</param>
public sealed record RunDerivationProgress(string Truck, int TrucksDone, int TrucksInAll, long SamplesRead);
