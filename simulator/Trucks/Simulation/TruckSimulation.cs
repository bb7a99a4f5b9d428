using Vanehour.Fleet;
using Vanehour.Simulator.Duty;
using Vanehour.Simulator.Physics;
using Vanehour.Simulator.Randomness;
using Vanehour.Simulator.Scenario;
using Vanehour.Simulator.Sensors;

namespace Vanehour.Simulator.Simulation;

/// <summary>One truck going through its days. A pass with sensors and a pass without go through the same physics, because every purpose has its own random stream.</summary>
internal sealed partial class TruckSimulation
{
    private const int ChecksKept = 8;

    // A limit passed once may be a gust; passed in so many runs it counts as passed for good.
    private const int RunsOverLimit = 3;
    private const double YearlyInspectionChance = 0.6;
    private const double OtherCrewChance = 0.12;

    private readonly TruckPlan plan;
    private readonly SimulationOptions options;
    private readonly YardCalendar calendar;
    private readonly IMaintenancePolicy policy;
    private readonly bool endsLives;
    private readonly Queue<double> checkSpeeds = new();
    private readonly DateTimeOffset?[] harmAt;
    private readonly int[] overLimit;
    private readonly List<SimulatedLife> lives = [];
    private readonly TruckMachine pump;
    private readonly RunExecutor executor;
    private CrewHabits crew;
    private string serial;
    private DateOnly outUntil;
    private double? vaneWidthMm;
    private double wanderLog;
    private int records;

    /// <summary>Puts the truck at its state before the first day.</summary>
    /// <param name="plan">The truck.</param>
    /// <param name="options">The fleet's options.</param>
    /// <param name="weather">Its yard's weather.</param>
    /// <param name="calendar">Its yard's calendar.</param>
    /// <param name="policy">When pumps are rebuilt.</param>
    public TruckSimulation(TruckPlan plan, SimulationOptions options, Weather weather, YardCalendar calendar, IMaintenancePolicy policy)
    {
        this.plan = plan;
        this.options = options;
        this.calendar = calendar;
        this.policy = policy;
        endsLives = true;
        crew = plan.Crew;
        serial = plan.Truck.PumpSerial;
        harmAt = new DateTimeOffset?[plan.Faults.Length];
        overLimit = new int[plan.Faults.Length];
        pump = new TruckMachine(plan.Build, plan.Traits, plan.Truck.TankVolume.Si, plan.Yard.StandardPressureKPa);
        pump.StartLife(plan.FirstLifeWearFactor, plan.AgeH);
        var midnight = plan.Yard.At(options.From, 0).ToUnixTimeSeconds();
        pump.Heat.CoreC = pump.Heat.HousingC = weather.TemperatureC(midnight);
        executor = new RunExecutor(plan, options, pump, weather, stepS: 1);
        executor.BeginDay(midnight, null, Stream(RandomStream.Physics, options.From), Stream(RandomStream.Sensors, options.From));
        lives.Add(NewLife(plan.CurrentFittedAt, plan.CurrentMeterAtFittingH));
    }

    private TruckSimulation(TruckSimulation other, int stepS)
    {
        plan = other.plan;
        options = other.options;
        calendar = other.calendar;
        policy = other.policy;
        crew = other.crew;
        serial = other.serial;
        outUntil = other.outUntil;
        wanderLog = other.wanderLog;
        harmAt = [.. other.harmAt];
        overLimit = [.. other.overLimit];
        pump = other.pump.Clone();
        executor = other.executor.ContinueWith(pump, stepS);
        lives = [.. other.lives.Select(l => l.Clone())];
    }

    public TruckMachine Pump => pump;

    /// <summary>The lives so far, the last one running.</summary>
    public IReadOnlyList<SimulatedLife> Lives => lives;

    /// <summary>When each fault of the plan had done harm, or null.</summary>
    public IReadOnlyList<DateTimeOffset?> HarmAt => harmAt;

    /// <summary>Takes a look at the truck just before a life ends, at what would become of it; null to do without.</summary>
    public Action<TruckSimulation>? BeforeLifeEnds { get; set; }

    /// <summary>Takes every check, or null.</summary>
    public Action<TruthCheck>? Checked { get; set; }

    /// <summary>Told of days on which the truck stays in: the first, and the first on which it goes out again.</summary>
    public Action<DateOnly, DateOnly>? OutOfService { get; set; }

    /// <summary>Takes the seconds from 20 to 40 kPa of every whole check that got that far, or null.</summary>
    public Action<double>? CheckTimed { get; set; }

    /// <summary>Takes every run with what it left in the tank, m3, or null.</summary>
    public Action<RunKind, double>? AfterRun { get; set; }

    /// <summary>The deepest vacuum on the gauge so far, kPa.</summary>
    public double DeepestKPa { get; private set; }

    /// <summary>Takes the instants at which the meter was replaced, or null.</summary>
    public Action<DateTimeOffset>? MeterReplaced { get; set; }

    public int PlannedRebuilds { get; private set; }

    public int Failures { get; private set; }

    /// <summary>Vane wear thrown away by planned rebuilds, in lives.</summary>
    public double UnusedLives { get; private set; }

    /// <summary>Pumps that were past their limit when they were rebuilt or failed.</summary>
    public int PastLimit { get; private set; }

    /// <summary>A copy that goes its own way with longer steps, without sensors and without ever ending a life: what would be.</summary>
    public TruckSimulation WithoutRebuilds() => new(this, stepS: 10);

    /// <summary>Goes through one local day.</summary>
    /// <param name="date">The day after the one before.</param>
    /// <param name="readings">Takes what the gateway sends, in order of time; null to leave the sensors out.</param>
    /// <param name="services">Takes the service records of the day; null to leave them out.</param>
    public void RunDay(DateOnly date, List<Reading>? readings, List<ServiceRecord>? services)
    {
        if (date.DayOfWeek == DayOfWeek.Sunday)
        {
            if (endsLives)
            {
                Serve(date, services);
            }

            return;
        }

        if (date.DayOfWeek == DayOfWeek.Monday || wanderLog == 0)
        {
            // An autoregressive wander by weeks, standard deviation 0.1 in the long run; invented.
            wanderLog = (0.9 * wanderLog) + (0.044 * Stream(RandomStream.Wear, date).Normal());
            pump.WearWander = Math.Exp(wanderLog);
        }

        ChangeCrew(date);
        if (date < outUntil)
        {
            return;
        }

        var day = WorkDay.Plan(crew, calendar, date, new CheckChances(options.PartFullChance, options.CutShortChance), Stream(RandomStream.Duty, date));
        if (day.Runs.IsEmpty)
        {
            return;
        }

        var wake = plan.Yard.At(date, day.WakeSecondOfDay).ToUnixTimeSeconds();
        executor.BeginDay(wake, readings, Stream(RandomStream.Physics, date), Stream(RandomStream.Sensors, date));
        pump.LeaveLiquid(day.LeftShare);
        pump.Oil.DrainSeparator();
        pump.Oil.Fill();
        executor.EmitIdle();
        foreach (var run in day.Runs)
        {
            executor.Rest(run.RestBeforeS, sampled: true);
            executor.Execute(run);
            Observe();
            AfterRun?.Invoke(run.Kind, pump.LiquidM3);
            if (endsLives && lives[^1].FailsAtH is not null)
            {
                Fail(date, services);
                break;
            }
        }

        executor.Rest(35 * 60, sampled: true);
        executor.EmitIdle();
    }

    private void Observe()
    {
        var now = DateTimeOffset.FromUnixTimeSeconds(executor.NowS);
        lives[^1].Observe(pump, now);
        if (executor.LastCheck is { } check)
        {
            Checked?.Invoke(check);
            if (check.Complete && executor.LastCheckS is { } seconds)
            {
                CheckTimed?.Invoke(seconds);
                checkSpeeds.Enqueue(plan.BookCheckS / Math.Max(1, seconds));
                if (checkSpeeds.Count > ChecksKept)
                {
                    checkSpeeds.Dequeue();
                }
            }
        }

        var model = plan.Build.Model;
        var peak = executor.Peak;
        DeepestKPa = Math.Max(DeepestKPa, peak.VacuumKPa);
        var over = peak.VacuumKPa > model.MaxVacuum.Kilopascals || peak.HousingC > model.MaxTemperature.Celsius || peak.Speed * model.RatedSpeed.Rpm > model.MaxSpeed.Rpm;
        for (var i = 0; i < harmAt.Length; i++)
        {
            if (harmAt[i] is null && plan.Faults[i].Serious && plan.Faults[i].IsOn(executor.NowS))
            {
                overLimit[i] += over ? 1 : 0;
                if (pump.WearStress >= 2 || overLimit[i] >= RunsOverLimit)
                {
                    harmAt[i] = now;
                }
            }
        }
    }

    private void ChangeCrew(DateOnly date)
    {
        if (date.Day > 7 || date.DayOfWeek != DayOfWeek.Monday)
        {
            return;
        }

        var random = Stream(RandomStream.Crew, date);
        if (date.Month % 3 == 1)
        {
            // Now and then trucks are swapped between crews for a quarter.
            crew = random.Chance(OtherCrewChance) ? CrewHabits.Draw(random, plan.Crew.MainJob) with { WakeSecondOfDay = plan.Crew.WakeSecondOfDay } : plan.Crew;
        }

        if (date.Month == 1 + (plan.Index % 12) && random.Chance(YearlyInspectionChance))
        {
            OutOfService?.Invoke(date, date.AddDays(6));
            outUntil = Later(outUntil, date.AddDays(6));
        }
    }

    private SimulatedLife NewLife(DateTimeOffset fittedAt, double meterH) => new()
    {
        PumpSerial = serial,
        FittedAt = fittedAt,
        MeterAtFittingH = meterH,
        FailsAtWear = SeededRandom.For(options.Seed, plan.Index, RandomStream.Wear, -1000 - lives.Count).Uniform(1.2, 1.5),
    };

    private static DateOnly Later(DateOnly a, DateOnly b) => a > b ? a : b;

    private SeededRandom Stream(RandomStream purpose, DateOnly date) => SeededRandom.For(options.Seed, plan.Index, purpose, date.DayNumber);
}
