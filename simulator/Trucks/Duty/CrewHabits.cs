using Vanehour.Simulator.Randomness;

namespace Vanehour.Simulator.Duty;

/// <summary>How a truck is used.</summary>
/// <param name="WakeSecondOfDay">Usual start of the day, s of the local day.</param>
/// <param name="JobsPerDay">Mean number of jobs, 3 to 6.</param>
/// <param name="SaturdayChance">Chance of working a Saturday, 0..1.</param>
/// <param name="SkipCheckChance">Chance of leaving out the start-up check, 0..1.</param>
/// <param name="MainJob">What it hauls most of the time.</param>
/// <param name="LateRecordChance">Chance that a service record bears the date on which it was written up, some days later, 0..1.</param>
internal sealed record CrewHabits(
    int WakeSecondOfDay, double JobsPerDay, double SaturdayChance, double SkipCheckChance, JobKind MainJob = JobKind.Septic, double LateRecordChance = 0)
{
    /// <summary>Rough PTO hours a week, to place pumps in their lives.</summary>
    public double HoursPerWeek => ((5 * 0.95) + SaturdayChance) * ((0.73 * JobsPerDay) + 0.08);

    /// <summary>Draws the habits of a crew.</summary>
    public static CrewHabits Draw(SeededRandom random, JobKind mainJob) => new(
        (6 * 3600) + random.Whole(-900, 3600), random.Uniform(4, 5.2), random.Uniform(0.1, 0.35), random.Uniform(0.08, 0.2), mainJob);
}
