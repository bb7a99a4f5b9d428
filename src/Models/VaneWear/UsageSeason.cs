using MathNet.Numerics.Distributions;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Regression;

namespace Vanehour.Models.VaneWear;

/// <summary>How a fleet's PTO hours follow the seasons: one wave a year, learned from all trucks together where a whole year of them is known.</summary>
internal sealed class UsageSeason
{
    private const int FewestWeeks = 52;
    private const double DaysInYear = 365.25;
    private const double DaysInWeek = 7;

    // A wave is believed from here on; of our own.
    private const double MostChance = 0.01;

    // A truck heard for less is no measure of its own mean.
    private const int FewestWeeksOfTruck = 26;

    private readonly double cos;
    private readonly double sin;

    private UsageSeason(double cos, double sin) => (this.cos, this.sin) = (cos, sin);

    /// <summary>No season.</summary>
    public static UsageSeason None { get; } = new(0, 0);

    /// <summary>The highest week over the mean one.</summary>
    public double Peak => Math.Exp(Math.Sqrt((cos * cos) + (sin * sin)));

    /// <summary>Learns the wave by least squares of the logarithm of the weeks' hours, each truck's over its own mean; none unless an F test speaks for it at 1 %.</summary>
    /// <param name="trucks">The runs of each truck, in order of start.</param>
    /// <param name="asOf">The end of the last week.</param>
    public static UsageSeason Learn(IEnumerable<IReadOnlyList<Run>> trucks, DateTimeOffset asOf)
    {
        var sums = new Dictionary<int, (double Sum, int Trucks)>();
        foreach (var runs in trucks.Where(r => r.Count > 0))
        {
            var weeks = (int)((asOf - runs[0].Start).TotalDays / DaysInWeek);
            if (weeks < FewestWeeksOfTruck)
            {
                continue;
            }

            var hours = new double[weeks];
            foreach (var run in runs)
            {
                var ago = (asOf - run.End).TotalDays / DaysInWeek;
                if (ago >= 0 && ago < weeks)
                {
                    hours[(int)ago] += run.HoursH;
                }
            }

            var mean = hours.Average();
            for (var w = 0; mean > 0 && w < weeks; w++)
            {
                var (sum, count) = sums.GetValueOrDefault(w);
                sums[w] = (sum + (hours[w] / mean), count + 1);
            }
        }

        var known = sums.Where(s => s.Value.Sum > 0).OrderBy(s => s.Key).ToList();
        if (known.Count < FewestWeeks)
        {
            return None;
        }

        var fit = WeightedLeastSquares.Fit(new LinearProblem
        {
            Columns = ["cos", "sin"],
            Rows = [.. known.Select(k => Wave(MiddleOfWeek(asOf, k.Key)))],
            Responses = [.. known.Select(k => Math.Log(k.Value.Sum / k.Value.Trucks))],
        });
        if (fit.Status != FitStatus.Converged)
        {
            return None;
        }

        var mid = known.Average(k => Math.Log(k.Value.Sum / k.Value.Trucks));
        var all = known.Sum(k => Square(Math.Log(k.Value.Sum / k.Value.Trucks) - mid));
        var left = known.Sum(k => Square(Math.Log(k.Value.Sum / k.Value.Trucks) - fit.Coefficients[0].Estimate - Dot(Wave(MiddleOfWeek(asOf, k.Key)))));
        var degrees = known.Count - 3;
        var f = left > 0 ? (all - left) / 2 / (left / degrees) : 0;
        return f > 0 && 1 - FisherSnedecor.CDF(2, degrees, f) < MostChance ? new UsageSeason(fit.Coefficients[1].Estimate, fit.Coefficients[2].Estimate) : None;

        double Dot(double[] wave) => (fit.Coefficients[1].Estimate * wave[0]) + (fit.Coefficients[2].Estimate * wave[1]);
    }

    /// <summary>Hours of a week over the mean of a year's.</summary>
    /// <param name="at">In the week.</param>
    public double At(DateTimeOffset at) => Math.Exp((cos * Wave(at)[0]) + (sin * Wave(at)[1]));

    /// <summary>The middle of the week that ended so many weeks ago; of one to come where that is below 0.</summary>
    public static DateTimeOffset MiddleOfWeek(DateTimeOffset asOf, double weeksAgo) => asOf.AddDays(-DaysInWeek * (weeksAgo + 0.5));

    private static double[] Wave(DateTimeOffset at)
    {
        var turn = 2 * Math.PI * (at - DateTimeOffset.UnixEpoch).TotalDays / DaysInYear;
        return [Math.Cos(turn), Math.Sin(turn)];
    }

    private static double Square(double x) => x * x;
}
