using Vanehour.Models.Analysis;

namespace Vanehour.Models.VaneWear;

/// <summary>A life with a baseline of its own, as it may lend to others.</summary>
/// <param name="Pump">The life.</param>
/// <param name="BaselinePerS">Net flow over gas volume as new, 1/s.</param>
/// <param name="BaselineRelativeSd">Its relative standard deviation.</param>
/// <param name="RatePer1000H">Its wear per 1 000 h; null where its checks span too few hours.</param>
internal sealed record LearnedLife(PumpHistory Pump, double BaselinePerS, double BaselineRelativeSd, double? RatePer1000H);
