namespace Vanehour.Models.Expectations;

/// <summary>
/// The half width of a split-conformal band: of n scores the one of rank ceil((n + 1) level). A new score that is exchangeable with them is at most
/// that with a chance of at least the level, and below level + 1/(n + 1) where no two are equal, whatever their distribution.
/// </summary>
/// <remarks>
/// [Vovk] V. Vovk, A. Gammerman and G. Shafer, Algorithmic Learning in a Random World, 2005; [Lei] J. Lei and others, Distribution-free predictive
/// inference for regression, Journal of the American Statistical Association 113 (2018), section 2.2. Both from memory.
/// </remarks>
public static class ConformalQuantile
{
    /// <summary>The quantile, in the scores' unit; null where the scores are too few for the level.</summary>
    /// <param name="scores">Absolute residuals over their scale, finite; in any order.</param>
    /// <param name="level">The chance to be inside, between 0 and 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">The level is not between 0 and 1.</exception>
    public static double? Of(IReadOnlyCollection<double> scores, double level)
    {
        ArgumentNullException.ThrowIfNull(scores);
        if (level is not (> 0 and < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(level), level, "Must lie between 0 and 1.");
        }

        // What rounding adds to 0.95 x 20 must not make a rank of 20 of it.
        const double rounding = 1e-9;
        var rank = (int)Math.Ceiling(((scores.Count + 1) * level) - rounding);
        if (rank > scores.Count)
        {
            return null;
        }

        double[] sorted = [.. scores];
        Array.Sort(sorted);
        return sorted[rank - 1];
    }
}
