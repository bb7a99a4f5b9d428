using System.Collections.Immutable;
using Vanehour.Simulator.Randomness;

namespace Vanehour.Simulator.Duty;

/// <summary>A truck's working day.</summary>
/// <param name="WakeSecondOfDay">When the gateway wakes, s of the local day.</param>
/// <param name="LeftShare">Share of the tank that was not emptied the evening before.</param>
/// <param name="Runs">The runs in order; none on a parked day.</param>
internal sealed record WorkDay(int WakeSecondOfDay, double LeftShare, ImmutableArray<PlannedRun> Runs)
{
    /// <summary>No new job begins after 16:15 local time.</summary>
    private const int LastStartS = (16 * 3600) + (15 * 60);

    // A crew goes to empty the tank before it would be fuller than this.
    private const double FullShare = 0.88;

    private static readonly WorkDay Parked = new(0, 0, []);

    /// <summary>Plans the day of a crew. Durations, volumes and shares are invented from how the trade works: 3 to 6 jobs, most off-loaded under pressure.</summary>
    /// <param name="crew">The truck's habits.</param>
    /// <param name="calendar">The yard's days off and seasons.</param>
    /// <param name="date">The local date.</param>
    /// <param name="chances">How often mornings begin part full and checks are cut short.</param>
    /// <param name="random">The truck's duty stream of that day.</param>
    public static WorkDay Plan(CrewHabits crew, YardCalendar calendar, DateOnly date, CheckChances chances, SeededRandom random)
    {
        var works = date.DayOfWeek switch
        {
            DayOfWeek.Sunday => false,
            DayOfWeek.Saturday => random.Chance(crew.SaturdayChance),
            _ => random.Chance(0.97),
        };
        if (!works || calendar.IsHoliday(date))
        {
            return Parked;
        }

        var wake = crew.WakeSecondOfDay + random.Whole(-480, 480);
        var runs = ImmutableArray.CreateBuilder<PlannedRun>();
        var clock = wake;
        var left = random.Chance(chances.PartFull) ? random.Uniform(0.1, 0.4) : random.Uniform(0, 0.015);
        if (!random.Chance(crew.SkipCheckChance))
        {
            var cut = random.Chance(chances.CutShort);
            Add(new(RunKind.StartUpCheck, random.Whole(180, 420), random.Whole(20, 45), cut ? 0 : random.Whole(30, 90), 0, 1, cut ? random.Uniform(0.5, 0.9) : 1));
        }

        var jobs = Math.Clamp((int)Math.Round((crew.JobsPerDay * calendar.Demand(date)) + random.Normal()), 3, 6);
        var full = left;
        for (var job = 0; job < jobs && clock < LastStartS; job++)
        {
            var kind = random.Chance(0.6) ? crew.MainJob : (JobKind)random.Whole(0, 3);
            var volume = random.Chance(0.35) ? random.Uniform(0.12, 0.4) : random.Uniform(0.45, 0.8);
            var (workFactor, level) = kind switch
            {
                JobKind.GreaseTrap => (0.8, random.Uniform(0.78, 0.92)),
                JobKind.CatchBasin => (1.15, random.Uniform(0.62, 0.8)),
                JobKind.Industrial => (1.1, random.Uniform(0.7, 0.92)),
                _ => (1.0, random.Uniform(0.65, 0.9)),
            };
            if (kind == JobKind.GreaseTrap)
            {
                volume *= 0.6;
            }

            // What doesn't fit any more has to be emptied first, where no off-loading has done so.
            var empty = full + volume > FullShare;
            full = empty ? volume : full + volume;
            var pull = random.Chance(0.5) ? 1 : random.Uniform(0.8, 1);
            Add(new(
                RunKind.Load, random.Whole(900, 2600), random.Whole(15, 40), (int)(workFactor * random.Whole(1080, 2760)), volume, level, pull, empty));
            if (random.Chance(0.75))
            {
                Add(new(RunKind.OffLoad, random.Whole(900, 2400), random.Whole(15, 30), random.Whole(540, 1080), 0, random.Uniform(0.4, 0.92), 0));
                full = 0;
            }
        }

        return new WorkDay(wake, left, runs.ToImmutable());

        void Add(PlannedRun run)
        {
            runs.Add(run);
            clock += run.RestBeforeS + run.NeutralS + run.WorkS;
        }
    }
}
