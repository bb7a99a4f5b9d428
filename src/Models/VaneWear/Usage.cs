using Vanehour.Fleet.Runs;

namespace Vanehour.Models.VaneWear;

/// <summary>How many PTO hours a truck does in a week: as it did of late, with the fleet's season.</summary>
internal sealed record Usage
{
    private const double DaysInWeek = 7;

    // So many fewer are drawn than there are: a sample is narrower than what it comes from, and how much it spreads is not known well either.
    private const int Fewer = 2;

    private readonly DateTimeOffset asOf;
    private readonly UsageSeason season;

    private Usage(double[] weeksH, DateTimeOffset asOf, UsageSeason season)
    {
        WeeksH = weeksH;
        this.asOf = asOf;
        this.season = season;
    }

    /// <summary>Hours of each of the last weeks, the newest first; empty without a whole week of data.</summary>
    public IReadOnlyList<double> WeeksH { get; }

    /// <summary>Mean PTO hours of a calendar day, h; null when the truck did not run.</summary>
    public double? HoursPerDay => WeeksH.Sum() > 0 ? WeeksH.Sum() / (DaysInWeek * WeeksH.Count) : null;

    /// <summary>Hours on the meter at the end of each week to come, h, along some ways that the weeks may fall; the first of each is 0.</summary>
    /// <remarks>
    /// Weeks are drawn from the late ones, with the season taken out and put in again. Each way first draws which of them it draws from (the bootstrap), so that it is not known better
    /// than by those few weeks how much the truck does.
    /// </remarks>
    /// <param name="weeks">How many weeks.</param>
    /// <param name="ways">How many ways.</param>
    /// <param name="random">Of the draws.</param>
    public double[][] Ahead(int weeks, int ways, Random random)
    {
        double[] pool = [.. WeeksH.Select((h, ago) => h / season.At(UsageSeason.MiddleOfWeek(asOf, ago)))];
        double[] factors = [.. Enumerable.Range(1, weeks).Select(ahead => season.At(UsageSeason.MiddleOfWeek(asOf, -ahead)))];
        return
        [
            .. Enumerable.Range(0, ways).Select(_ =>
            {
                double[] drawn = [.. Enumerable.Range(0, Math.Max(1, pool.Length - Fewer)).Select(_ => pool[random.Next(pool.Length)])];
                var hours = new double[weeks + 1];
                for (var w = 0; w < weeks; w++)
                {
                    hours[w + 1] = hours[w] + (drawn[random.Next(drawn.Length)] * factors[w]);
                }

                return hours;
            }),
        ];
    }

    /// <summary>Reads the weeks that end at <paramref name="asOf"/>, at most <paramref name="weeks"/> and no further back than the first run.</summary>
    public static Usage Read(IReadOnlyList<Run> runs, DateTimeOffset asOf, int weeks, UsageSeason season)
    {
        ArgumentNullException.ThrowIfNull(runs);
        if (runs.Count == 0)
        {
            return new Usage([], asOf, season);
        }

        var known = (int)((asOf - runs[0].Start).TotalDays / DaysInWeek);
        var sums = new double[Math.Clamp(known, 0, weeks)];
        foreach (var run in runs)
        {
            var ago = (asOf - run.End).TotalDays / DaysInWeek;
            if (ago >= 0 && ago < sums.Length)
            {
                sums[(int)ago] += run.HoursH;
            }
        }

        return new Usage(sums, asOf, season);
    }
}
