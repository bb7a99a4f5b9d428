namespace Vanehour.Simulator.Duty;

/// <summary>How often a morning's check is not what it should be.</summary>
/// <param name="PartFull">Chance that liquid was left in the tank, 0..1.</param>
/// <param name="CutShort">Chance that the crew stops the check before the relief valve lifts, 0..1.</param>
internal readonly record struct CheckChances(double PartFull, double CutShort);
