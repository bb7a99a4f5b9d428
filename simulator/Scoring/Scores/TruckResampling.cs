namespace Vanehour.Scoring;

/// <summary>
/// Percentile intervals of a ratio of sums over trucks by drawing trucks with replacement: faults and findings of one truck are not independent of one another, trucks are.
/// </summary>
/// <remarks>[Efron] B. Efron, R. Tibshirani, An Introduction to the Bootstrap, 1993, section 13.3 (from memory).</remarks>
internal static class TruckResampling
{
    private const int Draws = 2000;
    private const int Seed = 20260101;

    /// <summary>The interval of sum(numerators) / sum(denominators), one of each for every truck.</summary>
    public static ShareWithInterval Interval(IReadOnlyList<double> numerators, IReadOnlyList<double> denominators)
    {
        var total = denominators.Sum();
        if (total <= 0)
        {
            return new ShareWithInterval(null, null, null);
        }

        var random = new Random(Seed);
        var draws = new List<double>(Draws);
        for (var draw = 0; draw < Draws; draw++)
        {
            var (above, below) = (0.0, 0.0);
            for (var i = 0; i < numerators.Count; i++)
            {
                var truck = random.Next(numerators.Count);
                above += numerators[truck];
                below += denominators[truck];
            }

            if (below > 0)
            {
                draws.Add(above / below);
            }
        }

        draws.Sort();
        return new ShareWithInterval(draws[(int)(0.025 * (draws.Count - 1))], numerators.Sum() / total, draws[(int)Math.Ceiling(0.975 * (draws.Count - 1))]);
    }
}
