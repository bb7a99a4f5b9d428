namespace Vanehour.Models.Regression;

/// <summary>
/// Huber's estimate of the means of several groups with one spread, so that a unit far from the others of its group moves no mean far. Error variances by the pooled
/// units beyond and within the bend: [Huber] P. J. Huber, Robust Statistics, 1981, section 7.6, with the correction K for few units.
/// </summary>
public static class HuberGroups
{
    private const int MostRounds = 200;
    private const double Settled = 1e-12;

    /// <summary>Estimates.</summary>
    /// <param name="values">The units; finite.</param>
    /// <param name="groups">Of each unit, 0 to <paramref name="groupCount"/> less 1.</param>
    /// <param name="groupCount">How many groups there are; one may be empty.</param>
    /// <exception cref="ArgumentException">Lengths disagree, a value is not finite or there is no such group.</exception>
    public static GroupMeans Fit(IReadOnlyList<double> values, IReadOnlyList<int> groups, int groupCount)
    {
        ArgumentNullException.ThrowIfNull(values);
        ArgumentNullException.ThrowIfNull(groups);
        if (values.Count != groups.Count || !values.All(double.IsFinite) || groups.Any(g => g < 0 || g >= groupCount))
        {
            throw new ArgumentException("Each unit has a finite value and one of the groups.", nameof(values));
        }

        var members = Enumerable.Range(0, groupCount).Select(g => Enumerable.Range(0, values.Count).Where(i => groups[i] == g).ToArray()).ToArray();
        var means = members.Select(m => m.Length == 0 ? double.NaN : Robust.Median(m.Select(i => values[i]))).ToArray();
        var p = members.Count(m => m.Length > 0);
        var dof = values.Count - p;
        var scale = dof < 1 ? 0 : Spread([.. values.Select((v, i) => Math.Abs(v - means[groups[i]]))], p);
        for (var g = 0; g < groupCount; g++)
        {
            means[g] = members[g].Length == 0 ? double.NaN : Climb([.. members[g].Select(i => values[i])], means[g], scale);
        }

        var variance = double.NaN;
        if (dof >= 1)
        {
            var bend = scale > 0 ? Robust.HuberK * scale : double.PositiveInfinity;
            var residuals = values.Select((v, i) => v - means[groups[i]]).ToArray();
            var inside = residuals.Count(r => Math.Abs(r) <= bend) / (double)values.Count;
            var correction = 1 + ((double)p / values.Count * (1 - inside) / inside);
            variance = correction * correction * residuals.Sum(r => Math.Pow(Math.Clamp(r, -bend, bend), 2)) / dof / (inside * inside);
        }

        return new GroupMeans
        {
            Means = [.. means],
            Counts = [.. members.Select(m => m.Length)],
            Covariance = [.. Enumerable.Range(0, groupCount * groupCount).Select(i => i % (groupCount + 1) != 0 ? 0 : members[i / (groupCount + 1)].Length is > 0 and var n ? variance / n : double.NaN)],
            DegreesOfFreedom = Math.Max(dof, 0),
            UnitSd = Math.Sqrt(variance),
        };
    }

    // As many of the smallest deviations as there are medians are left out: the medians run through units. Where more than half are 0, their mean square.
    private static double Spread(double[] deviations, int medians)
    {
        Array.Sort(deviations);
        var median = Robust.MadToSd * Robust.Median(deviations.Skip(Math.Min(medians, deviations.Length - 1)));
        return median > 0 ? median : Math.Sqrt(deviations.Sum(d => d * d) / (deviations.Length - medians));
    }

    private static double Climb(double[] values, double start, double scale)
    {
        var at = start;
        for (var round = 0; round < MostRounds; round++)
        {
            var weights = values.Select(v => Robust.HuberWeight(v - at, scale)).ToArray();
            var next = values.Zip(weights, (v, w) => v * w).Sum() / weights.Sum();
            if (Math.Abs(next - at) <= Settled * Math.Max(Math.Abs(at), scale))
            {
                return next;
            }

            at = next;
        }

        return at;
    }
}
