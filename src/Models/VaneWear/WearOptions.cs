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

    /// <summary>
    /// Relative standard deviation of the flow as new of a pump about the nameplate's before the fleet says better: nominal volume, flow and gauge gain are
    /// each off by some per cent.
    /// </summary>
    public double NameplateBaselineSd { get; init; } = 0.15;

    /// <summary>Standard deviation of the flow as new between the pumps of a model, relative, before the fleet says better.</summary>
    public double PeerBaselineSd { get; init; } = 0.05;

    /// <summary>Standard deviation of tightness as new about that of a pump whose ultimate is nine tenths of ambient, before the fleet says better.</summary>
    public double NameplateTightnessSd { get; init; } = 0.05;

    /// <summary>Standard deviation of tightness as new between the pumps of a model, before the fleet says better.</summary>
    public double PeerTightnessSd { get; init; } = 0.02;

    /// <summary>Relative standard deviation that a rebuild adds to a baseline carried over on the same truck.</summary>
    public double CarriedBaselineSd { get; init; } = 0.03;

    /// <summary>Standard deviation of wear at fitting.</summary>
    public double WearAtFittingSd { get; init; } = 0.03;

    /// <summary>
    /// Relative standard deviation of the flow that is lost when vanes are at their limit: of a model's about what its limit says and, before the fleet says better, of a pump's about
    /// its model's. Above 0. Only vane widths tell.
    /// </summary>
    public double LossAtLimitSd { get; init; } = 0.02;

    /// <summary>Wear per 1 000 h before anything is known.</summary>
    public double RatePer1000H { get; init; } = 0.6;

    /// <summary>Standard deviation of the logarithm of <see cref="RatePer1000H"/>, before anything is known.</summary>
    public double LogRateSd { get; init; } = 0.7;

    /// <summary>Standard deviation of the logarithm of the rate between models, before the fleet says better.</summary>
    public double ModelLogRateSd { get; init; } = 0.35;

    /// <summary>Standard deviation of the logarithm of the rate between the pumps of a model, before the fleet says better.</summary>
    public double PumpLogRateSd { get; init; } = 0.25;

    /// <summary>Standard deviation that 1 000 h add to the logarithm of a pump's rate, before the fleet says better: pumps don't go on exactly as they went. 0 for never.</summary>
    public double RateWanderSd { get; init; } = 0.2;

    /// <summary>Standard deviation that 1 000 h add to the logarithm of the displaced flow, before the fleet says better: filters clog, gauges drift. Above 0.</summary>
    public double FlowWanderSd { get; init; } = 0.02;

    /// <summary>Standard error of a measured vane width, mm; a mean over several vanes by caliper, common practice.</summary>
    public double VaneWidthErrorMm { get; init; } = 0.2;

    /// <summary>Relative error added to a check whose pump speed is unknown.</summary>
    public double UnknownSpeedError { get; init; } = 0.03;

    /// <summary>Fewest lives that reached their limit while they were heard, to learn from them.</summary>
    public int FewestEndedLives { get; init; } = 20;

    /// <summary>Fewest of them of a pump's model, for what was learned to be used for it.</summary>
    public int FewestEndedLivesOfModel { get; init; } = 5;

    /// <summary>Hours to the limit above which nothing is learned: a pump that is far from it does not show how far, h.</summary>
    public double LearnedCapH { get; init; } = 800;

    /// <summary>
    /// How far past the limit pumps fail, in wear; above 0. The chance to have failed by a wear above 1 is 1 - exp(-((wear - 1)/margin)^2): half at 1 + 0.83 of it. Invented.
    /// </summary>
    public double FailureMargin { get; init; } = 0.25;

    /// <summary>Crossings later than this are beyond the horizon, h from now.</summary>
    public double HorizonH { get; init; } = 10_000;

    /// <summary>Crossings later than this are beyond the horizon, days from now.</summary>
    public double HorizonDays { get; init; } = 5 * 365.25;

    /// <summary>How many weeks back the truck's usage is taken from.</summary>
    public int UsageWeeks { get; init; } = 8;

    /// <summary>Draws from the posterior; quantiles are read from them.</summary>
    public int Draws { get; init; } = 1000;

    /// <summary>What is wrong with these options, in sentences; empty when nothing is.</summary>
    public IEnumerable<string> Problems()
    {
        if (FewestChecks < 3 || FewestBaselineChecks < 1 || Draws < 200 || UsageWeeks < 1)
        {
            yield return "At least 3 checks, 1 baseline check, 200 draws and 1 week of usage are needed.";
        }

        if (!(PeerBaselineSd > 0) || !(NameplateBaselineSd > 0) || !(PeerTightnessSd > 0) || !(NameplateTightnessSd > 0) || !(WearAtFittingSd > 0) || !(LossAtLimitSd > 0)
            || !(LogRateSd > 0) || !(ModelLogRateSd > 0) || !(PumpLogRateSd > 0) || !(RatePer1000H > 0) || !(FlowWanderSd > 0) || !(VaneWidthErrorMm > 0))
        {
            yield return "Standard deviations of baselines, of wear at fitting, of the flow lost at the limit, of the rate and of a vane width, and the rate itself must be above 0.";
        }

        if (!(CarriedBaselineSd >= 0) || !(RateWanderSd is >= 0 and < 2) || !(UnknownSpeedError >= 0))
        {
            yield return "Added errors must not be negative, and the wander of the rate must stay below 2.";
        }

        if (FewestChecksForSteps < 9 || !(StepMattersFrom > 0) || !(LeastCheckError > 0))
        {
            yield return "Steps need at least 9 checks, and their smallest size and the least error of a check must be above 0.";
        }

        if (FewestEndedLives < 10 || FewestEndedLivesOfModel < 1 || !(LearnedCapH > 0))
        {
            yield return "At least 10 ended lives, 1 of a model, are needed to learn from, and the hours learned must be above 0.";
        }

        if (!(FailureMargin > 0))
        {
            yield return "FailureMargin must be above 0.";
        }

        if (!(BaselineH > 0) || !(HorizonH > 0) || !(HorizonDays > 0))
        {
            yield return "The baseline's hours and the horizons must be above 0.";
        }
    }
}
