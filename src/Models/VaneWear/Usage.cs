using Vanehour.Fleet.Runs;

namespace Vanehour.Models.VaneWear;

/// <summary>How many PTO hours a truck does in a week, as it did of late.</summary>
public sealed record Usage
{
    private const double DaysInWeek = 7;

    private Usage(double[] weeksH) => WeeksH = weeksH;

    /// <summary>Hours of each of the last weeks, the newest first; empty without a whole week of data.</summary>
    public IReadOnlyList<double> WeeksH { get; }

    /// <summary>Mean PTO hours of a calendar day, h; null when the truck did not run.</summary>
    public double? HoursPerDay => WeeksH.Sum() > 0 ? WeeksH.Sum() / (DaysInWeek * WeeksH.Count) : null;

    /// <summary>Reads the weeks that end at <paramref name="asOf"/>, at most <paramref name="weeks"/> and no further back than the first run.</summary>
    public static Usage Read(IReadOnlyList<Run> runs, DateTimeOffset asOf, int weeks)
    {
        ArgumentNullException.ThrowIfNull(runs);
        if (runs.Count == 0)
        {
            return new Usage([]);
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

        return new Usage(sums);
    }
}
