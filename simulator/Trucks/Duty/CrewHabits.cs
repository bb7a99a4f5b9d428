namespace Vanehour.Simulator.Duty;

/// <summary>How a truck is used.</summary>
/// <param name="WakeSecondOfDay">Usual start of the day, s of the local day.</param>
/// <param name="JobsPerDay">Mean number of jobs, 3 to 6.</param>
/// <param name="SaturdayChance">Chance of working a Saturday, 0..1.</param>
/// <param name="SkipCheckChance">Chance of leaving out the start-up check, 0..1.</param>
internal sealed record CrewHabits(int WakeSecondOfDay, double JobsPerDay, double SaturdayChance, double SkipCheckChance)
{
    /// <summary>Rough PTO hours a week, to place pumps in their lives.</summary>
    public double HoursPerWeek => ((5 * 0.97) + SaturdayChance) * ((0.73 * JobsPerDay) + 0.08);
}
