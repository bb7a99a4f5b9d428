namespace Vanehour.Models.Indicators;

/// <summary>The two ways to look at a pump's latest runs.</summary>
/// <param name="AgainstOwnPast">From its own level, read from its first hours.</param>
/// <param name="AgainstPeers">From the median level of the other trucks with the same pump model; null with too few of them.</param>
/// <param name="OutsideOwnLimits">How many of the latest runs lie outside the individuals chart of the pump's first runs; 0 with too few of those.</param>
public sealed record PumpLenses(LensReading AgainstOwnPast, LensReading? AgainstPeers, int OutsideOwnLimits);
