using Vanehour.Fleet.Runs;

namespace Vanehour.Models.Comparing;

/// <summary>Means over runs.</summary>
internal static class RunMeans
{
    /// <summary>The mean by hours of what was measured and is a number; null where nothing was.</summary>
    public static double? ByHours(IEnumerable<Run> runs, Func<Run, double?> of)
    {
        var (sum, hours) = (0.0, 0.0);
        foreach (var run in runs)
        {
            if (of(run) is { } value && double.IsFinite(value) && run.HoursH > 0)
            {
                sum += value * run.HoursH;
                hours += run.HoursH;
            }
        }

        return hours > 0 ? sum / hours : null;
    }
}
