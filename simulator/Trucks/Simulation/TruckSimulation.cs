using Vanehour.Fleet;
using Vanehour.Simulator.Duty;
using Vanehour.Simulator.Physics;
using Vanehour.Simulator.Randomness;
using Vanehour.Simulator.Scenario;
using Vanehour.Simulator.Sensors;

namespace Vanehour.Simulator.Simulation;

/// <summary>One truck going through its days. A pass with sensors and a pass without go through the same physics, because every purpose has its own random stream.</summary>
internal sealed class TruckSimulation
{
    /// <summary>The shop rebuilds a pump on the Sunday after wear has passed this; invented.</summary>
    private const double RebuildAtWear = 1.02;

    // Sundays, local, when no truck works. Vanes are measured on arrival, so that the width belongs to the life that a rebuild then ends.
    private const int MeasureSecondOfDay = 10 * 3600;
    private const int RebuildSecondOfDay = 15 * 3600;
    private const int ReliefSecondOfDay = 16 * 3600;

    private readonly TruckPlan plan;
    private readonly long seed;
    private readonly PumpCondition pump;
    private readonly RunExecutor executor;
    private readonly List<SimulatedLife> lives = [];
    private readonly int keepLifeFrom;
    private double wanderLog;
    private int records;

    /// <summary>Puts the truck at its state before the first day.</summary>
    /// <param name="plan">The truck.</param>
    /// <param name="options">The fleet's options.</param>
    /// <param name="weather">Its yard's weather.</param>
    /// <param name="keepLifeFrom">Lives from this number on are never ended by a rebuild: what would have been.</param>
    public TruckSimulation(TruckPlan plan, SimulationOptions options, Weather weather, int keepLifeFrom = int.MaxValue)
    {
        this.plan = plan;
        this.keepLifeFrom = keepLifeFrom;
        seed = options.Seed;
        pump = new PumpCondition(plan.Build, plan.Traits);
        pump.StartLife(plan.FirstLifeWearFactor, plan.AgeH);
        executor = new RunExecutor(plan, options, pump, weather);
        var midnight = plan.Yard.At(options.From, 0).ToUnixTimeSeconds();
        pump.PumpTempC = weather.TemperatureC(midnight);
        executor.BeginDay(midnight, null, Stream(RandomStream.Physics, options.From), Stream(RandomStream.Sensors, options.From));
        lives.Add(NewLife(plan.Truck.PumpFitted, plan.Truck.MeterAtFittingH));
    }

    public PumpCondition Pump => pump;

    /// <summary>The lives so far, the last one running.</summary>
    public IReadOnlyList<SimulatedLife> Lives => lives;

    public double MeterH => plan.MeterAtStartH + (pump.EngagedS / 3600);

    /// <summary>Goes through one local day.</summary>
    /// <param name="date">The day after the one before.</param>
    /// <param name="readings">Takes what the gateway sends, in order of time; null to leave the sensors out.</param>
    /// <param name="services">Takes the service records of the day; null to leave them out.</param>
    public void RunDay(DateOnly date, List<Reading>? readings, List<ServiceRecord>? services)
    {
        if (date.DayOfWeek == DayOfWeek.Sunday)
        {
            Serve(date, services);
            return;
        }

        if (date.DayOfWeek == DayOfWeek.Monday || wanderLog == 0)
        {
            // An autoregressive wander by weeks, standard deviation 0.1 in the long run; invented.
            wanderLog = (0.9 * wanderLog) + (0.044 * Stream(RandomStream.Wear, date).Normal());
            pump.WearWander = Math.Exp(wanderLog);
        }

        var day = WorkDay.Plan(plan.Crew, date, Stream(RandomStream.Duty, date));
        if (day.Runs.IsEmpty)
        {
            return;
        }

        var wake = plan.Yard.At(date, day.WakeSecondOfDay).ToUnixTimeSeconds();
        executor.BeginDay(wake, readings, Stream(RandomStream.Physics, date), Stream(RandomStream.Sensors, date));
        pump.FillOil();
        executor.EmitIdle();
        foreach (var run in day.Runs)
        {
            executor.Rest(run.RestBeforeS, sampled: true);
            executor.Execute(run);
            lives[^1].Observe(pump, DateTimeOffset.FromUnixTimeSeconds(executor.NowS));
        }

        executor.Rest(35 * 60, sampled: true);
        executor.EmitIdle();
    }

    private void Serve(DateOnly date, List<ServiceRecord>? services)
    {
        var rebuilds = (date == plan.RebuildOn || pump.Wear >= RebuildAtWear) && lives.Count <= keepLifeFrom;
        if (rebuilds || plan.VaneWidthOn.Contains(date))
        {
            MeasureVanes(date, services);
        }

        // The first Sunday of the month is filter day.
        if (date.Day <= 7)
        {
            Record(services, date, MeasureSecondOfDay, ServiceKind.InletFilter);
        }

        if (!rebuilds)
        {
            return;
        }

        var at = plan.Yard.At(date, RebuildSecondOfDay);
        Record(services, date, RebuildSecondOfDay, ServiceKind.Rebuild, note: "Vanes replaced, end plates dressed");
        lives[^1].RemovedAt = at;
        lives.Add(NewLife(at, MeterH));
        pump.StartLife(SeededRandom.For(seed, plan.Index, RandomStream.Wear, -lives.Count).Factor(0.1));
        var settingInHg = Math.Round(plan.Build.Model.ReliefVacuum!.Value.InchesOfMercury, 1);
        Record(services, date, ReliefSecondOfDay, ServiceKind.ReliefVacuumSet, settingInHg, "inHg");
    }

    private void MeasureVanes(DateOnly date, List<ServiceRecord>? services)
    {
        var newMm = plan.Build.Model.VaneWidthNew!.Value.Millimetres;
        var limitMm = plan.Build.Model.VaneWidthLimit!.Value.Millimetres;

        // A caliper on several vanes, averaged; invented standard error 0.12 mm.
        var seen = newMm - (pump.Wear * (newMm - limitMm)) + (0.12 * Stream(RandomStream.Service, date).Normal());
        Record(services, date, MeasureSecondOfDay, ServiceKind.VaneWidth, Math.Round(seen, 1), "mm");
    }

    private void Record(
        List<ServiceRecord>? services, DateOnly date, int secondOfDay, ServiceKind kind, double? value = null, string? unit = null, string? note = null)
    {
        records++;
        services?.Add(new ServiceRecord
        {
            RecordId = FormattableString.Invariant($"{plan.Truck.Id}-{records:D3}"),
            At = plan.Yard.At(date, secondOfDay),
            Truck = plan.Truck.Id,
            MeterH = Math.Round(MeterH, 2),
            Kind = kind,
            Value = value,
            Unit = unit,
            Note = note,
        });
    }

    private SimulatedLife NewLife(DateTimeOffset fittedAt, double meterH) => new()
    {
        FittedAt = fittedAt,
        MeterAtFittingH = meterH,
        FailsAtWear = SeededRandom.For(seed, plan.Index, RandomStream.Wear, -1000 - lives.Count).Uniform(1.2, 1.5),
    };

    private SeededRandom Stream(RandomStream purpose, DateOnly date) => SeededRandom.For(seed, plan.Index, purpose, date.DayNumber);
}
