namespace Vanehour.Models.VaneWear;

/// <summary>How wear is read and projected. The defaults are chosen, not published.</summary>
public sealed record WearOptions
{
    /// <summary>Fewest start-up checks to fit.</summary>
    public int FewestChecks { get; init; } = 5;

    /// <summary>Fewest checks among which a step is looked for.</summary>
    public int FewestChecksForSteps { get; init; } = 9;

    /// <summary>The smallest step that counts, as a share of the flow as new; a smaller one is left to the noise.</summary>
    public double StepMattersFrom { get; init; } = 0.03;

    /// <summary>A check is never taken as better known than to this share of the flow.</summary>
    public double LeastCheckError { get; init; } = 0.003;

    /// <summary>Checks up to so many hours after fitting set the baseline, h.</summary>
    public double BaselineH { get; init; } = 150;

    /// <summary>Fewest checks inside <see cref="BaselineH"/> for a baseline of the pump's own.</summary>
    public int FewestBaselineChecks { get; init; } = 5;

    /// <summary>Relative standard deviation of a baseline taken over from other trucks' pumps of the same model.</summary>
    public double PeerBaselineSd { get; init; } = 0.05;

    /// <summary>
    /// Relative standard deviation of a baseline taken from rated flow and tank volume alone; wider, because nominal volume, flow and gauge gain are
    /// each off by some per cent.
    /// </summary>
    public double NameplateBaselineSd { get; init; } = 0.15;

    /// <summary>Relative standard deviation that a rebuild adds to a baseline carried over on the same truck with the same pump.</summary>
    public double CarriedBaselineSd { get; init; } = 0.03;

    /// <summary>Standard deviation of wear at fitting.</summary>
    public double WearAtFittingSd { get; init; } = 0.03;

    /// <summary>Standard deviation of the wear rate before anything is known, per 1 000 h; rates are not negative.</summary>
    public double RateSdPer1000H { get; init; } = 2;

    /// <summary>Relative standard deviation of the mean rate from now to the limit about the rate so far: pumps don't go on exactly as they went.</summary>
    public double RateChangeSd { get; init; } = 0.1;

    /// <summary>Relative error added to a check whose pump speed is unknown.</summary>
    public double UnknownSpeedError { get; init; } = 0.03;

    /// <summary>Crossings later than this are beyond the horizon, h from now.</summary>
    public double HorizonH { get; init; } = 10_000;

    /// <summary>Crossings later than this are beyond the horizon, days from now.</summary>
    public double HorizonDays { get; init; } = 5 * 365.25;

    /// <summary>How many weeks back the truck's usage is taken from.</summary>
    public int UsageWeeks { get; init; } = 8;

    /// <summary>Draws from the posterior; quantiles are read from them.</summary>
    public int Draws { get; init; } = 2000;

    /// <summary>What is wrong with these options, in sentences; empty when nothing is.</summary>
    public IEnumerable<string> Problems()
    {
        if (FewestChecks < 3 || FewestBaselineChecks < 1 || Draws < 200 || UsageWeeks < 1)
        {
            yield return "At least 3 checks, 1 baseline check, 200 draws and 1 week of usage are needed.";
        }

        if (!(PeerBaselineSd > 0) || !(NameplateBaselineSd > 0) || !(WearAtFittingSd > 0) || !(RateSdPer1000H > 0))
        {
            yield return "Standard deviations of baselines, of wear at fitting and of the rate must be above 0.";
        }

        if (!(CarriedBaselineSd >= 0) || !(RateChangeSd is >= 0 and < 1) || !(UnknownSpeedError >= 0))
        {
            yield return "Added errors must not be negative, and the change of rate must stay below 1.";
        }

        if (FewestChecksForSteps < 9 || !(StepMattersFrom > 0) || !(LeastCheckError > 0))
        {
            yield return "Steps need at least 9 checks, and their smallest size and the least error of a check must be above 0.";
        }

        if (!(BaselineH > 0) || !(HorizonH > 0) || !(HorizonDays > 0))
        {
            yield return "The baseline's hours and the horizons must be above 0.";
        }
    }
}
