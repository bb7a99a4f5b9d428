namespace Vanehour.Models.Indicators;

/// <summary>When a row of deviations counts as a lasting shift. The defaults are chosen, not published, unless they say otherwise.</summary>
public sealed record ShiftOptions
{
    /// <summary>Weight of the newest run in the moving average (EWMA), 0..1.</summary>
    /// <remarks>[NIST] NIST/SEMATECH e-Handbook 6.3.2.4 advises 0.2 to 0.3; lower finds small shifts sooner, and runs are many.</remarks>
    public double Lambda { get; init; } = 0.1;

    /// <summary>
    /// Limit of the moving average in its own standard deviations. The handbook's 3 would cry wolf about once in 800 runs; a fleet of twelve trucks
    /// makes that many in two weeks.
    /// </summary>
    public double LimitSd { get; init; } = 4.5;

    /// <summary>
    /// Allowance k of the cumulative sum (CUSUM) beside the moving average, in standard deviations of a run: a shift of twice it is found soonest.
    /// It sees what the average cannot, a slow shift of half a standard deviation.
    /// </summary>
    public double CusumAllowanceSd { get; init; } = 0.25;

    /// <summary>
    /// Limit h of the cumulative sum, in standard deviations of a run. With the allowance's default a steady pump passes it about once in 400 000 runs,
    /// a shift of half a standard deviation about 85 runs after it began.
    /// </summary>
    public double CusumLimitSd { get; init; } = 22;

    /// <summary>
    /// The error of a pump's own level is the same in every run and would add up; the allowance is raised by so many of its standard errors.
    /// </summary>
    public double CusumLevelErrors { get; init; } = 2.5;

    /// <summary>A single run counts for at most so many standard deviations, so that one outlier cannot cross the limit.</summary>
    public double RunCapSd { get; init; } = 4;

    /// <summary>Oil use matters from this share of what is expected.</summary>
    public double OilUseShare { get; init; } = 0.1;

    /// <summary>Temperature rise matters from this deviation, K.</summary>
    public double TemperatureRiseK { get; init; } = 4;

    /// <summary>Restlessness of the pump temperature matters from this share of what is expected.</summary>
    public double HuntingShare { get; init; } = 0.15;

    /// <summary>Restlessness of the pump temperature never matters below this, K.</summary>
    public double LeastHuntingK { get; init; } = 0.04;

    /// <summary>
    /// Average number of runs until average or sum cry wolf though nothing is there, for independent normal runs about a known level:
    /// 1/L = 1/L(EWMA) + 1/L(CUSUM), a lower bound, because where both signal together that counts twice. A finding needs besides that the shift matters.
    /// </summary>
    /// <returns>Runs, above 0 and at most 1e12, which stands for never; see <see cref="RunLength"/> for the method.</returns>
    public double InControlRuns()
    {
        return 1 / ((1 / Possible(RunLength.OfEwma(Lambda, LimitSd))) + (1 / Possible(RunLength.OfCusum(CusumAllowanceSd, CusumLimitSd))));

        // Beyond it the equations are singular to the last digit and give anything.
        static double Possible(double length) => length is > 0 and < 2e12 ? length : 2e12;
    }

    /// <summary>What is wrong with these options, in sentences; empty when nothing is.</summary>
    public IEnumerable<string> Problems()
    {
        if (!(Lambda is > 0 and <= 1))
        {
            yield return "The weight of the newest run must lie above 0 and not above 1.";
        }

        if (!(CusumAllowanceSd > 0) || !(CusumLimitSd > 0) || !(CusumLevelErrors >= 0))
        {
            yield return "The allowance and the limit of the cumulative sum must be above 0, and the errors it allows for not below 0.";
        }

        if (!(LimitSd > 0) || !(RunCapSd > 0) || !(OilUseShare > 0) || !(TemperatureRiseK > 0) || !(HuntingShare > 0) || !(LeastHuntingK > 0))
        {
            yield return "Limits and the deviations that matter must be above 0.";
        }
    }
}
