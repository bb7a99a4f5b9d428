using System.Globalization;

namespace Vanehour.Models.Rounds;

/// <summary>How rounds are counted. The shares are of our own.</summary>
public sealed record RoundOptions
{
    /// <summary>Whether rounds are expected of every truck (true) or none (false); null: where its crew has marked the round or check before.</summary>
    public bool? Expect { get; init; }

    /// <summary>A check is due soon in this last share of its interval, 0 to below 1.</summary>
    public double SoonShare { get; init; } = 0.15;

    /// <summary>A check is overdue once it is past due by more than this share of its interval, 0 or more.</summary>
    public double GraceShare { get; init; } = 0.25;

    /// <summary>Whole days of work without a check that are let pass before it is overdue, 0 or more.</summary>
    public int GraceWorkDays { get; init; } = 1;

    /// <summary>What the fleet does otherwise than the table, by key of the check.</summary>
    public IDictionary<string, RoundCheckSettings> Checks { get; init; } = new Dictionary<string, RoundCheckSettings>(StringComparer.OrdinalIgnoreCase);

    /// <summary>What is wrong with these options, in sentences; empty when nothing is.</summary>
    public IEnumerable<string> Problems()
    {
        if (!(SoonShare is >= 0 and < 1) || !(GraceShare is >= 0 and <= 10) || GraceWorkDays is < 0 or > 365)
        {
            yield return "SoonShare must be from 0 to below 1, GraceShare from 0 to 10 and GraceWorkDays from 0 to 365.";
        }

        foreach (var (key, set) in Checks.OrderBy(c => c.Key, StringComparer.Ordinal))
        {
            if (RoundTable.Default.Find(key) is not { } check)
            {
                yield return $"There is no check '{key}'; the checks are {string.Join(", ", RoundTable.Default.Checks.Select(c => c.Key))}.";
            }
            else if (Problem(check, set) is { } problem)
            {
                yield return $"{check.Key}: {problem}";
            }
        }
    }

    /// <summary>A check of the table as this fleet does it; null where it leaves it out.</summary>
    public RoundCheck? Apply(RoundCheck check)
    {
        ArgumentNullException.ThrowIfNull(check);

        // Environment variables write keys in capitals.
        return Checks.FirstOrDefault(c => c.Key.Equals(check.Key, StringComparison.OrdinalIgnoreCase)).Value is not { } set ? check
            : set.Off ? null
            : check with { Days = (set.Days ?? check.Days) is > 0 and var days ? days : null, Hours = (set.Hours ?? check.Hours) is > 0 and var hours ? hours : null };
    }

    private static string? Problem(RoundCheck check, RoundCheckSettings set)
    {
        const int longestDays = 3660;
        const double longestH = 100_000;
        if (set.Days is < 0 or > longestDays || (set.Hours is { } hours && !(hours is >= 0 and <= longestH)))
        {
            return string.Create(CultureInfo.InvariantCulture, $"Days must be from 0 to {longestDays} and Hours from 0 to {longestH:0}.");
        }

        if (check.Round == RoundKind.Daily && (set.Days is not null || set.Hours is not null))
        {
            return "a daily check comes with each day of work; it can be switched Off, but takes no Days or Hours.";
        }

        return !set.Off && check.Round != RoundKind.Daily && (set.Days ?? check.Days ?? 0) == 0 && (set.Hours ?? check.Hours ?? 0) == 0
            ? "neither days nor hours are left; switch it Off instead."
            : null;
    }
}
