namespace Vanehour.Models.VaneWear;

/// <summary>What is known of the net flow over gas volume of the pump as new, before its line is fitted.</summary>
/// <param name="Source">Where it comes from.</param>
/// <param name="PerS">The estimate, 1/s, above 0.</param>
/// <param name="RelativeSd">Its relative standard deviation, above 0.</param>
public sealed record Baseline(BaselineSource Source, double PerS, double RelativeSd);
