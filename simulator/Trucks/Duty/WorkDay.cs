using System.Collections.Immutable;
using Vanehour.Simulator.Randomness;

namespace Vanehour.Simulator.Duty;

/// <summary>A truck's working day.</summary>
/// <param name="WakeSecondOfDay">When the gateway wakes, s of the local day.</param>
/// <param name="Runs">The runs in order; none on a parked day.</param>
internal sealed record WorkDay(int WakeSecondOfDay, ImmutableArray<PlannedRun> Runs)
{
    /// <summary>No new job begins after 16:15 local time.</summary>
    private const int LastStartS = (16 * 3600) + (15 * 60);

    private static readonly WorkDay Parked = new(0, []);

    /// <summary>Plans the day of a crew. Durations are invented from how the trade works: 3 to 6 jobs, most off-loaded under pressure.</summary>
    /// <param name="crew">The truck's habits.</param>
    /// <param name="date">The local date.</param>
    /// <param name="random">The truck's duty stream of that day.</param>
    public static WorkDay Plan(CrewHabits crew, DateOnly date, SeededRandom random)
    {
        var works = date.DayOfWeek switch
        {
            DayOfWeek.Sunday => false,
            DayOfWeek.Saturday => random.Chance(crew.SaturdayChance),
            _ => random.Chance(0.97),
        };
        if (!works)
        {
            return Parked;
        }

        var wake = crew.WakeSecondOfDay + random.Whole(-480, 480);
        var runs = ImmutableArray.CreateBuilder<PlannedRun>();
        var clock = wake;
        if (!random.Chance(crew.SkipCheckChance))
        {
            // Now and then a crew checks with liquid left in the tank: such a check looks too fast.
            var gas = random.Chance(0.03) ? random.Uniform(0.6, 0.9) : random.Uniform(0.985, 1);
            Add(new(RunKind.StartUpCheck, random.Whole(180, 420), random.Whole(20, 45), random.Whole(30, 90), gas, 1, 1));
        }

        var jobs = Math.Clamp((int)Math.Round(crew.JobsPerDay + random.Normal()), 3, 6);
        for (var job = 0; job < jobs && clock < LastStartS; job++)
        {
            var gas = random.Chance(0.25) ? random.Uniform(0.55, 0.95) : 1;
            var pull = random.Chance(0.5) ? 1 : random.Uniform(0.8, 1);
            Add(new(RunKind.Load, random.Whole(900, 2600), random.Whole(15, 40), random.Whole(1080, 2760), gas, random.Uniform(0.65, 0.92), pull));
            if (random.Chance(0.75))
            {
                Add(new(RunKind.OffLoad, random.Whole(900, 2400), random.Whole(15, 30), random.Whole(540, 1080), 0.3, random.Uniform(0.4, 0.92), 0));
            }
        }

        return new WorkDay(wake, runs.ToImmutable());

        void Add(PlannedRun run)
        {
            runs.Add(run);
            clock += run.RestBeforeS + run.NeutralS + run.WorkS;
        }
    }
}
