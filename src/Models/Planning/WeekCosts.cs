using System.Collections.Immutable;

namespace Vanehour.Models.Planning;

/// <summary>
/// What a rebuild in each week is expected to cost: the planned rebuild, the chance that the pump fails before it times what a failure costs more, and the vane hours thrown away.
/// </summary>
/// <param name="Weeks">By week, index 0 the first that can be planned.</param>
/// <param name="Later">At best after the horizon.</param>
public sealed record WeekCosts(ImmutableArray<double> Weeks, double Later)
{
    /// <summary>Whether an open Stop finding brings it forward.</summary>
    public bool IsUrged { get; init; }

    /// <summary>Whether a rebuild within the horizon is cheaper than any after it.</summary>
    public bool IsDue => Weeks.Min() < Later;

    /// <summary>Reckons them.</summary>
    /// <param name="risk">The pump.</param>
    /// <param name="horizon">Weeks that are planned; fewer than the chances reach.</param>
    /// <param name="costs">Of jobs and failures.</param>
    /// <param name="stopRisk">Chance a week, besides wear, that it fails; 0 without an open Stop finding.</param>
    public static WeekCosts Of(PumpRisk risk, int horizon, PlanCosts costs, double stopRisk)
    {
        ArgumentNullException.ThrowIfNull(risk);
        ArgumentNullException.ThrowIfNull(costs);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(horizon, risk.LimitBy.Length);
        var all = new double[risk.LimitBy.Length];
        var unused = 0.0;
        for (var i = all.Length - 1; i >= 0; i--)
        {
            unused += risk.HoursPerWeek * (1 - risk.LimitBy[i]);
            all[i] = costs.PlannedRebuild + (risk.FailBy[i] * (costs.Failure - costs.PlannedRebuild)) + (risk.VaneHourValue * unused);
        }

        var later = all.Skip(horizon).Min();
        var within = all.Take(horizon).ToArray();
        var isUrged = stopRisk > 0 && within.Min() < later;
        if (isUrged)
        {
            // It does not make a rebuild due, since what is wrong may be mended otherwise; of one that is due it says that it should be soon.
            for (var i = 0; i < horizon; i++)
            {
                within[i] += (1 - Math.Pow(1 - stopRisk, i)) * (costs.Failure - costs.PlannedRebuild);
            }

            later += (1 - Math.Pow(1 - stopRisk, horizon)) * (costs.Failure - costs.PlannedRebuild);
        }

        return new WeekCosts([.. within], later) { IsUrged = isUrged };
    }
}
