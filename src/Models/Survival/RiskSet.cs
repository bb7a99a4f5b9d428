namespace Vanehour.Models.Survival;

/// <summary>Who was at risk and who failed at each age at which someone failed.</summary>
/// <param name="Age">The age.</param>
/// <param name="AtRisk">Units with entry below and exit at or above it.</param>
/// <param name="Failures">Those that failed at it.</param>
internal readonly record struct RiskSet(double Age, int AtRisk, int Failures)
{
    /// <summary>The risk sets in order of age.</summary>
    public static List<RiskSet> Of(IReadOnlyList<Lifetime> lifetimes) =>
        At(lifetimes, lifetimes.Where(l => l.HasFailed).Select(l => l.Exit).Distinct().Order());

    /// <summary>The risk sets at given ages, in rising order.</summary>
    public static List<RiskSet> At(IReadOnlyList<Lifetime> lifetimes, IEnumerable<double> ages)
    {
        var entries = lifetimes.Select(l => l.Entry).Order().ToArray();
        var exits = lifetimes.Select(l => l.Exit).Order().ToArray();
        var failures = lifetimes.Where(l => l.HasFailed).GroupBy(l => l.Exit).ToDictionary(g => g.Key, g => g.Count());
        var (entered, left) = (0, 0);
        var sets = new List<RiskSet>();
        foreach (var age in ages)
        {
            while (entered < entries.Length && entries[entered] < age)
            {
                entered++;
            }

            while (left < exits.Length && exits[left] < age)
            {
                left++;
            }

            sets.Add(new RiskSet(age, entered - left, failures.GetValueOrDefault(age)));
        }

        return sets;
    }
}
