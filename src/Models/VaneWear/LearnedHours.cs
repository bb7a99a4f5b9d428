namespace Vanehour.Models.VaneWear;

/// <summary>Sets the hours to the limit of one pump by what was learned from ended lives.</summary>
/// <param name="Hours">The learned hours to the limit, no more than the cap, h; null where nothing was learned for its model.</param>
/// <param name="Blend">How it is weighed against the wear curve.</param>
internal sealed record LearnedHours(double? Hours, WearBlend Blend)
{
    /// <summary>Quantiles of the hours, h, and what they are made of, from the wear curve's; null where those stay as they are.</summary>
    public (double P10, double P50, double P90, LearnedShare Share)? About(double p10, double p50, double p90) => Blend.Of(p10, p50, p90, Hours);
}
