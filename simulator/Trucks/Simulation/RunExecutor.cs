using Vanehour.Fleet;
using Vanehour.Simulator.Duty;
using Vanehour.Simulator.Faults;
using Vanehour.Simulator.Physics;
using Vanehour.Simulator.Randomness;
using Vanehour.Simulator.Scenario;
using Vanehour.Simulator.Sensors;

namespace Vanehour.Simulator.Simulation;

/// <summary>Carries out planned runs on a truck's physics, step by step, and writes what the gateway reads. Steps are as long as the sampling; each is solved exactly.</summary>
internal sealed class RunExecutor(TruckPlan plan, SimulationOptions options, PumpCondition pump, Weather weather)
{
    private const double IdleSpeedShare = 0.68;
    private const double VentTimeConstantS = 3;
    private const double PressureTimeConstantS = 30;
    private const double LoadWanderTimeConstantS = 120;
    private const int LongestPumpDownS = 420;
    private const int SamplesOnPlateau = 3;

    /// <summary>No gateway samples denser than this at steady work or at rest.</summary>
    private const int LeastSteadyIntervalS = 10;

    private readonly SlipLaw slip = new(plan.Build.Model.FlowKeptLimit, plan.Yard.StandardPressureKPa);
    private List<Reading>? log;
    private SeededRandom physics = null!;
    private SeededRandom sensing = null!;
    private FaultEffects effects;
    private double speedRatio;
    private double vacuumKPa;
    private double pressureKPa;
    private long lastFullS;

    /// <summary>The truck's clock, s since 1970-01-01 UTC.</summary>
    public long NowS { get; private set; }

    /// <summary>Begins a day: where readings go (null: nowhere, and no sensor noise is drawn) and the day's random streams.</summary>
    public void BeginDay(long nowS, List<Reading>? readings, SeededRandom physicsStream, SeededRandom sensorStream)
    {
        log = readings;
        physics = physicsStream;
        sensing = sensorStream;
        Rest((int)Math.Min(int.MaxValue, Math.Max(0, nowS - NowS)), sampled: false);
        NowS = nowS;
    }

    /// <summary>Lets time pass with the power take-off off.</summary>
    /// <param name="seconds">How long.</param>
    /// <param name="sampled">Whether the gateway is awake.</param>
    public void Rest(int seconds, bool sampled)
    {
        effects = plan.EffectsAt(NowS);
        vacuumKPa = 0;
        pressureKPa = 0;
        var interval = sampled ? options.IdleIntervalMin * 60 : int.MaxValue;
        while (seconds > 0)
        {
            var step = Math.Min(interval, seconds);
            Step(step, PumpLoad.Off);
            seconds -= step;
            if (sampled && seconds >= LeastSteadyIntervalS)
            {
                Emit(ReadingScope.Full, PumpLoad.Off);
            }
        }
    }

    /// <summary>A sample with the power take-off off, now.</summary>
    public void EmitIdle() => Emit(ReadingScope.Full, PumpLoad.Off);

    /// <summary>Engages, works and disengages; the clock ends at the instant of disengaging.</summary>
    public void Execute(PlannedRun run)
    {
        effects = plan.EffectsAt(NowS);
        speedRatio = plan.Traits.SpeedFactor * physics.Factor(0.006);
        pump.OilRunFactor = physics.Factor(0.03);
        Emit(ReadingScope.Full, PumpLoad.Neutral(speedRatio * IdleSpeedShare));
        Neutral(run.NeutralS);
        switch (run.Kind)
        {
            case RunKind.StartUpCheck:
                PumpDown(run);
                Hold(run.WorkS);
                break;
            case RunKind.Load:
                PumpDown(run);
                Load(run);
                break;
            default:
                OffLoad(run);
                break;
        }

        Neutral(physics.Whole(12, 28));
        Emit(ReadingScope.Full, PumpLoad.Off);
    }

    private void Neutral(int seconds)
    {
        vacuumKPa *= Math.Exp(-seconds / VentTimeConstantS);
        pressureKPa *= Math.Exp(-seconds / VentTimeConstantS);
        Step(seconds, PumpLoad.Neutral(speedRatio * IdleSpeedShare));
    }

    private void PumpDown(PlannedRun run)
    {
        // Cold oil, valve position and how the crew revs make one pump-down unlike the next.
        var tank = Tank(run.GasShare, flowChange: physics.Factor(0.006), leakChange: physics.Factor(0.02));
        var stopKPa = plan.ReliefKPa * run.PumpDownShare;

        // A pump that can't reach that: a check is held until the gauge stands still, a job begins when it has become slow.
        var levelKPa = (run.Kind == RunKind.StartUpCheck ? 0.985 : 0.94) * tank.UltimateKPa;
        vacuumKPa = 0;
        var elapsed = 0;
        var onPlateau = 0;
        var step = physics.Whole(1, options.PumpDownIntervalS);
        while (onPlateau < SamplesOnPlateau && elapsed < LongestPumpDownS)
        {
            vacuumKPa = Math.Min(stopKPa, tank.VacuumAfter(vacuumKPa, step));
            Step(step, Under(vacuumKPa));
            elapsed += step;
            Emit(ReadingScope.Rising, Under(vacuumKPa));
            if (vacuumKPa >= stopKPa || vacuumKPa > levelKPa)
            {
                onPlateau++;
            }

            step = options.PumpDownIntervalS;
        }
    }

    private void Hold(int seconds)
    {
        var tank = Tank(1, 1, 1);
        Steady(seconds, step =>
        {
            var reachable = Math.Min(plan.ReliefKPa, Math.Max(vacuumKPa, tank.VacuumAfter(vacuumKPa, step)));
            vacuumKPa = reachable - (0.15 * Math.Abs(physics.Normal()));
            return Under(vacuumKPa);
        });
    }

    private void Load(PlannedRun run)
    {
        var reachable = Math.Min(plan.ReliefKPa, 0.97 * Tank(1, 1, 1).UltimateKPa);
        var mean = run.Level * reachable;
        var sd = 0.06 * reachable;
        Steady(run.WorkS, step =>
        {
            var keep = Math.Exp(-step / LoadWanderTimeConstantS);
            var next = mean + ((vacuumKPa - mean) * keep) + (sd * Math.Sqrt(1 - (keep * keep)) * physics.Normal());
            vacuumKPa = Math.Clamp(next, 0.25 * reachable, reachable);
            return Under(vacuumKPa);
        });
    }

    private void OffLoad(PlannedRun run)
    {
        var settingKPa = plan.Build.Model.ReliefPressure!.Value.Kilopascals;
        var target = run.Level * settingKPa;
        vacuumKPa = 0;
        Steady(run.WorkS, step =>
        {
            var next = FirstOrder.After(pressureKPa, target, step, PressureTimeConstantS) + (0.8 * physics.Normal());
            pressureKPa = Math.Clamp(next, 0.5, settingKPa);
            return new PumpLoad(true, speedRatio, 0, pressureKPa);
        });
    }

    private void Steady(int seconds, Func<int, PumpLoad> advance)
    {
        while (seconds > 0)
        {
            var step = Math.Min(options.SteadyIntervalS, seconds);
            var load = advance(step);
            Step(step, load);
            seconds -= step;
            if (step >= LeastSteadyIntervalS)
            {
                Emit(NowS - lastFullS >= options.SlowIntervalS ? ReadingScope.Full : ReadingScope.Fast, load);
            }
        }
    }

    private TankEvacuation Tank(double gasShare, double flowChange, double leakChange)
    {
        var ratedM3PerS = plan.Build.Model.FreeAir.Si * plan.Traits.FlowFactor;
        return new TankEvacuation(
            weather.PressureKPa(NowS),
            ratedM3PerS * speedRatio * flowChange,
            ratedM3PerS * (slip.Share(pump.Wear) + effects.LeakShare) * leakChange,
            plan.Truck.TankVolume.Si * plan.Traits.VolumeFactor * gasShare);
    }

    private PumpLoad Under(double vacuum) => new(true, speedRatio, vacuum, 0);

    private void Step(int seconds, in PumpLoad load)
    {
        NowS += seconds;
        pump.Advance(seconds, load, weather.TemperatureC(NowS), effects);
    }

    private void Emit(ReadingScope scope, in PumpLoad load)
    {
        if (scope == ReadingScope.Full)
        {
            lastFullS = NowS;
        }

        if (log is null)
        {
            return;
        }

        SignalValues truth = default;
        truth[(int)Signal.PtoHours] = plan.MeterAtStartH + (pump.EngagedS / 3600);
        truth[(int)Signal.Pto] = load.Engaged ? 1 : 0;
        truth[(int)Signal.Vacuum] = vacuumKPa;
        truth[(int)Signal.Pressure] = pressureKPa;
        truth[(int)Signal.PumpTemp] = pump.PumpTempC;
        truth[(int)Signal.AmbientTemp] = weather.TemperatureC(NowS);
        truth[(int)Signal.PumpSpeed] = load.SpeedRatio * plan.Build.Model.RatedSpeed.Rpm;
        truth[(int)Signal.OilUsed] = plan.OilUsedAtStartL + pump.OilFedL;
        truth[(int)Signal.OilLevel] = pump.OilLevelL;
        truth[(int)Signal.Baro] = weather.PressureKPa(NowS);
        log.Add(new Reading(NowS, plan.Sensors.Read(truth, scope, sensing)));
    }
}
