using Vanehour.Fleet;
using Vanehour.Simulator.Duty;
using Vanehour.Simulator.Faults;
using Vanehour.Simulator.Gateways;
using Vanehour.Simulator.Physics;
using Vanehour.Simulator.Randomness;
using Vanehour.Simulator.Scenario;
using Vanehour.Simulator.Sensors;

namespace Vanehour.Simulator.Simulation;

/// <summary>Carries out planned runs on a truck's physics, second by second, and writes what the gateway reads.</summary>
internal sealed class RunExecutor
{
    private const double IdleSpeedShare = 0.68;
    private const int LongestPumpDownS = 420;
    private const int LongestPressureBuildS = 90;
    private const int SamplesOnPlateau = 3;

    // A crew watches the gauge for this long before it says that it stands still.
    private const int WatchS = 10;
    private const double StandsStillKPa = 0.12;
    private const double SlowEnoughToWorkKPa = 0.6;

    // The sight glass shows a tank as full from here.
    private const double FullShare = 0.95;
    private const int WanderEveryS = 10;
    private const double WanderTimeConstantS = 120;
    private const double WanderSd = 0.2;
    private const int AirEveryS = 60;

    // What a stuck vacuum gauge shows; invented.
    private const double StuckGaugeKPa = 31.2;

    /// <summary>No gateway samples denser than this at steady work or at rest.</summary>
    private const int LeastSteadyIntervalS = 10;

    private readonly TruckPlan plan;
    private readonly SimulationOptions options;
    private readonly Weather weather;
    private readonly int stepS;
    private readonly TruckMachine machine;
    private List<Reading>? log;
    private SeededRandom physics = null!;
    private SeededRandom sensing = null!;
    private FaultEffects effects = FaultEffects.None;
    private Surroundings air;
    private long airAtS = -AirEveryS;
    private double speedRatio;
    private long lastFullS;
    private double meterLostH;
    private long meterResetAtS = long.MinValue;

    /// <summary>Takes over a truck.</summary>
    /// <param name="plan">What is fixed about it.</param>
    /// <param name="options">The fleet's options.</param>
    /// <param name="machine">Its state, which the executor changes.</param>
    /// <param name="weather">Its yard's weather.</param>
    /// <param name="stepS">Seconds a step: 1, or more where only wear matters.</param>
    public RunExecutor(TruckPlan plan, SimulationOptions options, TruckMachine machine, Weather weather, int stepS)
    {
        this.plan = plan;
        this.options = options;
        this.machine = machine;
        this.weather = weather;
        this.stepS = stepS;
    }

    /// <summary>The truck's clock, s since 1970-01-01 UTC.</summary>
    public long NowS { get; private set; }

    /// <summary>What the hour meter shows, h.</summary>
    public double MeterH => options.Dirt > 0 ? CountedH - (GatewayRates.MeterTurnsAtH * Math.Floor(CountedH / GatewayRates.MeterTurnsAtH)) : CountedH;

    private double CountedH => plan.MeterAtStartH + (machine.EngagedS / 3600) - meterLostH;

    /// <summary>The last check carried out, or null; for the truth only.</summary>
    public TruthCheck? LastCheck { get; private set; }

    /// <summary>Seconds in which the last check went from 20 to 40 kPa, by the truck's gauge as it really is; null where it did not.</summary>
    public double? LastCheckS { get; private set; }

    /// <summary>The most of the last run: vacuum held at work, kPa; temperature of the housing, Cel; speed over rated.</summary>
    public (double VacuumKPa, double HousingC, double Speed) Peak { get; private set; }

    /// <summary>Goes on where another left off, on another machine.</summary>
    public RunExecutor ContinueWith(TruckMachine copy, int step) => new(plan, options, copy, weather, step)
    {
        NowS = NowS,
        meterLostH = meterLostH,
        meterResetAtS = meterResetAtS,
        effects = effects,
    };

    /// <summary>Fits another hour meter.</summary>
    /// <param name="readingH">What the new one shows, h.</param>
    public void ReplaceMeter(double readingH) => meterLostH += CountedH - readingH;

    /// <summary>Begins a day: where readings go (null: nowhere, and no sensor noise is drawn) and the day's random streams.</summary>
    public void BeginDay(long nowS, List<Reading>? readings, SeededRandom physicsStream, SeededRandom sensorStream)
    {
        log = readings;
        physics = physicsStream;
        sensing = sensorStream;
        if (NowS != 0)
        {
            Rest((int)Math.Min(int.MaxValue, Math.Max(0, nowS - NowS)), sampled: false);
        }

        NowS = nowS;
        Breathe();
    }

    /// <summary>Lets time pass with the power take-off off.</summary>
    /// <param name="seconds">How long.</param>
    /// <param name="sampled">Whether the gateway is awake.</param>
    public void Rest(int seconds, bool sampled)
    {
        LookAtFaults();
        var interval = sampled ? options.IdleIntervalMin * 60 : int.MaxValue;
        while (seconds > 0)
        {
            var step = Math.Min(interval, seconds);
            NowS += step;
            Breathe();
            machine.Advance(step, Controls.Off, air, effects);
            seconds -= step;
            if (sampled && seconds >= LeastSteadyIntervalS)
            {
                Emit(ReadingScope.Full, engaged: false);
            }
        }
    }

    /// <summary>A sample with the power take-off off, now.</summary>
    public void EmitIdle() => Emit(ReadingScope.Full, engaged: false);

    /// <summary>Engages, works and disengages; the clock ends at the instant of disengaging.</summary>
    public void Execute(PlannedRun run)
    {
        LookAtFaults();
        LastCheck = null;
        LastCheckS = null;
        Peak = default;
        speedRatio = plan.Traits.SpeedFactor * physics.Factor(0.006);

        // Cold oil, how the valve stands and how the crew revs make one run unlike the next.
        machine.OilRunFactor = physics.Factor(0.03);
        machine.FlowRunFactor = physics.Factor(0.006);
        machine.SlipRunFactor = physics.Factor(0.02);
        if (run.EmptyBefore)
        {
            machine.LeaveLiquid(physics.Uniform(0, 0.02));
        }

        var neutral = new Controls { Engaged = true, AskedSpeed = speedRatio * IdleSpeedShare, Valve = ValvePosition.Neutral, Bleeds = true };
        machine.Advance(0, neutral, air, effects);
        Emit(ReadingScope.Full, engaged: true);
        Go(run.NeutralS, neutral);
        switch (run.Kind)
        {
            case RunKind.StartUpCheck:
                Check(run);
                break;
            case RunKind.Load:
                PumpDown(run.PumpDownShare, SlowEnoughToWorkKPa);
                Load(run);
                break;
            default:
                OffLoad(run);
                break;
        }

        Go(physics.Whole(12, 28), neutral);
        machine.Advance(0, Controls.Off, air, effects);
        Emit(ReadingScope.Full, engaged: false);
    }

    private Controls Draws => new() { Engaged = true, AskedSpeed = speedRatio, Valve = ValvePosition.Vacuum };

    private void Check(PlannedRun run)
    {
        var startedS = NowS;
        var gas = 1 - machine.LiquidShare;
        PumpDown(run.PumpDownShare, StandsStillKPa);
        var whole = run.PumpDownShare >= 1;
        LastCheck = new TruthCheck
        {
            Truck = plan.Truck.Id,
            At = DateTimeOffset.FromUnixTimeSeconds(startedS),
            Complete = whole,
            GasShare = gas,
            FlowKept = machine.FlowKept(),
        };
        var hold = Draws;
        Steady(run.WorkS, () => hold, full: null);
    }

    private void PumpDown(double share, double slowKPa)
    {
        var controls = Draws;
        var elapsed = 0;
        var onPlateau = 0;
        var untilSample = physics.Whole(1, options.PumpDownIntervalS);
        var watchedKPa = 0.0;
        var untilWatch = WatchS;
        double? at20 = null;
        while (onPlateau < SamplesOnPlateau && elapsed < LongestPumpDownS)
        {
            var step = Math.Min(stepS, untilSample);
            Step(step, controls);
            elapsed += step;
            untilSample -= step;
            untilWatch -= step;
            at20 ??= machine.VacuumKPa >= 20 ? elapsed : null;
            if (LastCheckS is null && at20 is { } from && machine.VacuumKPa >= SlipLaw.ReferenceVacuumKPa)
            {
                LastCheckS = elapsed - from;
            }

            if (untilWatch <= 0 && onPlateau == 0)
            {
                onPlateau = elapsed > 2 * WatchS && machine.VacuumKPa - watchedKPa < slowKPa ? 1 : 0;
                watchedKPa = machine.VacuumKPa;
                untilWatch = WatchS;
            }

            if (untilSample == 0)
            {
                untilSample = options.PumpDownIntervalS;
                Emit(ReadingScope.Rising, engaged: true);
                if (onPlateau > 0 || machine.VacuumKPa >= share * machine.VacuumCrackKPa(effects))
                {
                    onPlateau++;
                }
            }
        }
    }

    private void Load(PlannedRun run)
    {
        var meanKPa = run.Level * machine.ReachableKPa(air);
        var volume = run.LiquidShare * machine.TankM3;
        var flow = volume / run.WorkS;
        var hose = machine.HoseAirForVacuum(meanKPa, flow, speedRatio, air);
        var until = Math.Min(FullShare, machine.LiquidShare + (1.1 * run.LiquidShare));
        var wander = 0.0;
        var controls = Draws;
        Steady(
            run.WorkS,
            () =>
            {
                var keep = Math.Exp(-WanderEveryS / WanderTimeConstantS);
                wander = (keep * wander) + (WanderSd * Math.Sqrt(1 - (keep * keep)) * physics.Normal());
                var more = Math.Exp(wander);
                return controls with { HoseAirM3PerS = hose * more, LiquidM3PerS = flow * more, LiquidAtKPa = meanKPa };
            },
            full: () => machine.LiquidShare >= until);
    }

    private void OffLoad(PlannedRun run)
    {
        var targetKPa = run.Level * plan.Build.Model.ReliefPressure!.Value.Kilopascals;
        var controls = new Controls { Engaged = true, AskedSpeed = speedRatio, Valve = ValvePosition.Pressure };
        var elapsed = 0;
        var untilSample = physics.Whole(1, options.PumpDownIntervalS);
        while (machine.PressureKPa < targetKPa && elapsed < LongestPressureBuildS)
        {
            var step = Math.Min(stepS, untilSample);
            Step(step, controls);
            elapsed += step;
            untilSample -= step;
            if (untilSample == 0)
            {
                untilSample = options.PumpDownIntervalS;
                Emit(ReadingScope.Rising, engaged: true);
            }
        }

        var flow = machine.LiquidM3 / run.WorkS;
        var hose = machine.HoseAirForPressure(targetKPa, flow, speedRatio, air);
        var wander = 0.0;
        Steady(
            run.WorkS,
            () =>
            {
                var keep = Math.Exp(-WanderEveryS / WanderTimeConstantS);
                wander = (keep * wander) + (WanderSd * Math.Sqrt(1 - (keep * keep)) * physics.Normal());
                var more = Math.Exp(0.5 * wander);
                return controls with { HoseAirM3PerS = hose * more, LiquidM3PerS = flow * more, LiquidAtKPa = targetKPa };
            },
            full: null);
        machine.LeaveLiquid(Math.Min(machine.LiquidShare, physics.Uniform(0, 0.02)));
    }

    private void Steady(int seconds, Func<Controls> crew, Func<bool>? full)
    {
        var untilSample = options.SteadyIntervalS;
        while (seconds > 0)
        {
            var stretch = Math.Min(Math.Min(WanderEveryS, untilSample), seconds);
            Go(stretch, crew());
            seconds -= stretch;
            untilSample -= stretch;
            if (untilSample == 0)
            {
                untilSample = options.SteadyIntervalS;
                Emit(NowS - lastFullS >= options.SlowIntervalS ? ReadingScope.Full : ReadingScope.Fast, engaged: true);
            }

            if (full?.Invoke() == true)
            {
                return;
            }
        }
    }

    private void Go(int seconds, in Controls controls)
    {
        while (seconds > 0)
        {
            var step = Math.Min(stepS, seconds);
            Step(step, controls);
            seconds -= step;
        }
    }

    private void Step(int seconds, in Controls controls)
    {
        NowS += seconds;
        Breathe();
        machine.Advance(seconds, controls, air, effects);
        Peak = (Math.Max(Peak.VacuumKPa, machine.VacuumKPa), Math.Max(Peak.HousingC, machine.Heat.HousingC), Math.Max(Peak.Speed, machine.Speed));
    }

    private void Breathe()
    {
        if (NowS - airAtS >= AirEveryS || NowS < airAtS)
        {
            airAtS = NowS;
            air = new Surroundings(weather.TemperatureC(NowS), weather.PressureKPa(NowS));
        }
    }

    private void LookAtFaults()
    {
        effects = plan.EffectsAt(NowS);
        if (effects.MeterResetAtS > meterResetAtS)
        {
            meterResetAtS = effects.MeterResetAtS;
            meterLostH += CountedH;
        }
    }

    private void Emit(ReadingScope scope, bool engaged)
    {
        if (scope == ReadingScope.Full)
        {
            lastFullS = NowS;
        }

        if (log is null || effects.Silent)
        {
            return;
        }

        SignalValues truth = default;
        truth[(int)Signal.PtoHours] = MeterH;
        truth[(int)Signal.Pto] = engaged ? 1 : 0;
        truth[(int)Signal.Vacuum] = effects.GaugeStuck ? StuckGaugeKPa : machine.VacuumKPa * effects.GaugeGain;
        truth[(int)Signal.Pressure] = machine.PressureKPa * effects.GaugeGain;
        truth[(int)Signal.PumpTemp] = machine.Heat.HousingC + effects.TemperatureOffsetK;
        truth[(int)Signal.AmbientTemp] = air.AmbientC;
        truth[(int)Signal.PumpSpeed] = engaged ? machine.Speed * plan.Build.Model.RatedSpeed.Rpm : 0;
        truth[(int)Signal.OilUsed] = plan.OilUsedAtStartL + machine.Oil.FedL;
        truth[(int)Signal.OilLevel] = machine.Oil.LevelL;
        truth[(int)Signal.Baro] = air.BarometerKPa;
        log.Add(new Reading(NowS, plan.Sensors.Read(truth, scope, sensing, effects.GaugeStuck)));
    }
}
