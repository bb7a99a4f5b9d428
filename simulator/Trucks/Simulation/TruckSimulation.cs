using Vanehour.Fleet;
using Vanehour.Simulator.Duty;
using Vanehour.Simulator.Faults;
using Vanehour.Simulator.Gateways;
using Vanehour.Simulator.Physics;
using Vanehour.Simulator.Randomness;
using Vanehour.Simulator.Scenario;
using Vanehour.Simulator.Sensors;

namespace Vanehour.Simulator.Simulation;

/// <summary>One truck going through its days. A pass with sensors and a pass without go through the same physics, because every purpose has its own random stream.</summary>
internal sealed class TruckSimulation
{
    // Sundays, local, when no truck works. Vanes are measured on arrival, so that the width belongs to the life that a rebuild then ends.
    private const int RepairSecondOfDay = 9 * 3600;
    private const int MeasureSecondOfDay = 10 * 3600;
    private const int RebuildSecondOfDay = 15 * 3600;
    private const int ReliefSecondOfDay = 16 * 3600;
    private const int MeterSecondOfDay = 17 * 3600;

    // The shop looks through the inspection port at the first Sunday of every month; a caliper on several vanes, averaged. Invented standard error.
    private const double CaliperMm = 0.12;
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
    private readonly int step;
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
        step = 1;
        crew = plan.Crew;
        serial = plan.Truck.PumpSerial;
        harmAt = new DateTimeOffset?[plan.Faults.Length];
        overLimit = new int[plan.Faults.Length];
        pump = new TruckMachine(plan.Build, plan.Traits, plan.Truck.TankVolume.Si, plan.Yard.StandardPressureKPa);
        pump.StartLife(plan.FirstLifeWearFactor, plan.AgeH);
        var midnight = plan.Yard.At(options.From, 0).ToUnixTimeSeconds();
        pump.Heat.CoreC = pump.Heat.HousingC = weather.TemperatureC(midnight);
        executor = new RunExecutor(plan, options, pump, weather, step);
        executor.BeginDay(midnight, null, Stream(RandomStream.Physics, options.From), Stream(RandomStream.Sensors, options.From));
        lives.Add(NewLife(plan.CurrentFittedAt, plan.CurrentMeterAtFittingH));
    }

    private TruckSimulation(TruckSimulation other, int step)
    {
        plan = other.plan;
        options = other.options;
        calendar = other.calendar;
        policy = other.policy;
        this.step = step;
        crew = other.crew;
        serial = other.serial;
        outUntil = other.outUntil;
        wanderLog = other.wanderLog;
        harmAt = [.. other.harmAt];
        overLimit = [.. other.overLimit];
        pump = other.pump.Clone();
        executor = other.executor.ContinueWith(pump, step);
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

    /// <summary>A copy that goes its own way with longer steps, without sensors and without ever ending a life: what would be.</summary>
    public TruckSimulation WithoutRebuilds() => new(this, step: 10);

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
            outUntil = date.AddDays(6);
        }
    }

    private void Serve(DateOnly date, List<ServiceRecord>? services)
    {
        var filterDay = date.Day <= 7;
        var forced = date == plan.RebuildOn;
        if (filterDay)
        {
            vaneWidthMm = VaneWidth(date);
        }

        foreach (var fault in plan.Faults)
        {
            if (fault.Ends is { } ends && plan.Yard.DateOf(ends) == date)
            {
                Repair(fault, date, services);
            }
        }

        var seen = new PumpObservation
        {
            Truck = plan.Truck.Id,
            PumpModel = plan.Build.Model.Model,
            Date = date,
            HoursSinceFitting = pump.HoursSinceFitting,
            VaneWidthMm = vaneWidthMm,
            VaneWidthLimitMm = plan.Build.Model.VaneWidthLimit!.Value.Millimetres,
            CheckSpeed = checkSpeeds.Count == ChecksKept ? Median(checkSpeeds) : null,
            CheckSpeedAtLimit = plan.CheckSpeedAtLimit,
        };
        var rebuilds = forced || lives[^1].Failed || policy.Rebuild(seen);
        if ((rebuilds && !lives[^1].Failed) || plan.VaneWidthOn.Contains(date))
        {
            Record(services, date, MeasureSecondOfDay, ServiceKind.VaneWidth, Math.Round(VaneWidth(date), 1), "mm");
        }

        if (filterDay && !plan.Faults.Any(f => f.Cause == Cause.InletFilterClogged && f.IsOn(plan.Yard.At(date, MeasureSecondOfDay).ToUnixTimeSeconds())))
        {
            Record(services, date, MeasureSecondOfDay, ServiceKind.InletFilter);
        }

        if (rebuilds)
        {
            Rebuild(date, services);
        }

        if (options.Dirt > 0)
        {
            ReplaceMeter(date, services);
        }
    }

    private void ReplaceMeter(DateOnly date, List<ServiceRecord>? services)
    {
        var random = Stream(RandomStream.Meter, date);
        if (!random.Chance(GatewayRates.MeterReplaced * options.Dirt))
        {
            return;
        }

        // The record names what the old meter showed last and what the new one, new or from another truck, shows first.
        var newH = Math.Round(random.Chance(0.5) ? random.Uniform(0, 1) : random.Uniform(100, 4000), 1);
        Record(services, date, MeterSecondOfDay, ServiceKind.MeterReplaced, newH, "h");
        executor.ReplaceMeter(newH);
        MeterReplaced?.Invoke(plan.Yard.At(date, MeterSecondOfDay));
    }

    private void Repair(InjectedFault fault, DateOnly date, List<ServiceRecord>? services)
    {
        var (kind, note) = fault.Repair;
        if (kind == ServiceKind.ReliefVacuumSet)
        {
            Record(services, date, RepairSecondOfDay, kind, WantedReliefInHg, "inHg");
        }
        else
        {
            Record(services, date, RepairSecondOfDay, kind, note: note);
        }
    }

    private double WantedReliefInHg => Math.Round(plan.Build.Model.ReliefVacuum!.Value.InchesOfMercury, 1);

    private void Fail(DateOnly date, List<ServiceRecord>? services)
    {
        BeforeLifeEnds?.Invoke(this);
        Failures++;
        var at = DateTimeOffset.FromUnixTimeSeconds(executor.NowS).ToOffset(plan.Yard.At(date, 12 * 3600).Offset);
        AddRecord(services, at, ServiceKind.Failure, null, null, "Pump seized");
        lives[^1].Failed = true;
        lives[^1].RemovedAt = at;

        // The shop has it open until the Sunday after next.
        outUntil = date.AddDays(8 + ((7 - (int)date.DayOfWeek) % 7));
    }

    private void Rebuild(DateOnly date, List<ServiceRecord>? services)
    {
        var at = plan.Yard.At(date, RebuildSecondOfDay);
        var life = lives[^1];
        if (!life.Failed)
        {
            BeforeLifeEnds?.Invoke(this);
            PlannedRebuilds++;
            UnusedLives += Math.Max(0, 1 - pump.Wear);
        }

        life.RemovedAt ??= at;
        var traits = plan.Traits;
        var random = SeededRandom.For(options.Seed, plan.Index, RandomStream.Wear, -lives.Count - 1);
        var wearFactor = random.Factor(0.1);
        if (plan.SwapsPumps)
        {
            if (!life.Failed)
            {
                Record(services, date, RebuildSecondOfDay, ServiceKind.Removed, note: "Swapped for a rebuilt spare");
            }

            serial = FormattableString.Invariant($"{plan.Truck.PumpSerial}-S{lives.Count}");
            traits = traits.OtherPump(random);
            records++;
            services?.Add(NewRecord(at, ServiceKind.Fitted) with { PumpSerial = serial, PumpModel = plan.Build.Model.Model });
        }
        else
        {
            Record(services, date, RebuildSecondOfDay, ServiceKind.Rebuild, note: life.Failed ? "Repair after failure" : "Vanes replaced, end plates dressed");
        }

        lives.Add(NewLife(at, executor.MeterH));
        pump.FitPump(traits);
        pump.StartLife(wearFactor);
        checkSpeeds.Clear();
        vaneWidthMm = null;
        Record(services, date, ReliefSecondOfDay, ServiceKind.ReliefVacuumSet, WantedReliefInHg, "inHg");
    }

    private double VaneWidth(DateOnly date)
    {
        var newMm = plan.Build.Model.VaneWidthNew!.Value.Millimetres;
        var limitMm = plan.Build.Model.VaneWidthLimit!.Value.Millimetres;
        return newMm - (pump.Wear * (newMm - limitMm)) + (CaliperMm * Stream(RandomStream.Service, date).Normal());
    }

    private void Record(
        List<ServiceRecord>? services, DateOnly date, int secondOfDay, ServiceKind kind, double? value = null, string? unit = null, string? note = null)
    {
        // Some are written up days later under that day's date; what ends or starts a life never is.
        var random = SeededRandom.For(options.Seed, plan.Index, RandomStream.Service, -records - 1);
        var late = kind is not (ServiceKind.Rebuild or ServiceKind.Failure or ServiceKind.Removed or ServiceKind.Fitted or ServiceKind.MeterReplaced) && random.Chance(plan.Crew.LateRecordChance);
        AddRecord(services, plan.Yard.At(late ? date.AddDays(random.Whole(1, 6)) : date, secondOfDay), kind, value, unit, note);
    }

    private void AddRecord(List<ServiceRecord>? services, DateTimeOffset at, ServiceKind kind, double? value, string? unit, string? note)
    {
        records++;
        services?.Add(NewRecord(at, kind) with { Value = value, Unit = unit, Note = note });
    }

    private ServiceRecord NewRecord(DateTimeOffset at, ServiceKind kind) => new()
    {
        RecordId = FormattableString.Invariant($"{plan.Truck.Id}-{records:D3}"),
        At = at,
        Truck = plan.Truck.Id,
        MeterH = Math.Round(executor.MeterH, 2),
        Kind = kind,
    };

    private SimulatedLife NewLife(DateTimeOffset fittedAt, double meterH) => new()
    {
        PumpSerial = serial,
        FittedAt = fittedAt,
        MeterAtFittingH = meterH,
        FailsAtWear = SeededRandom.For(options.Seed, plan.Index, RandomStream.Wear, -1000 - lives.Count).Uniform(1.2, 1.5),
    };

    private static double Median(IEnumerable<double> values)
    {
        var sorted = values.Order().ToArray();
        return (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2;
    }

    private SeededRandom Stream(RandomStream purpose, DateOnly date) => SeededRandom.For(options.Seed, plan.Index, purpose, date.DayNumber);
}
