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

    /// <summary>What is wrong with these options, in sentences; empty when nothing is.</summary>
    public IEnumerable<string> Problems()
    {
        if (!(Lambda is > 0 and <= 1))
        {
            yield return "The weight of the newest run must lie above 0 and not above 1.";
        }

        if (!(LimitSd > 0) || !(RunCapSd > 0) || !(OilUseShare > 0) || !(TemperatureRiseK > 0) || !(HuntingShare > 0) || !(LeastHuntingK > 0))
        {
            yield return "Limits and the deviations that matter must be above 0.";
        }
    }
}
