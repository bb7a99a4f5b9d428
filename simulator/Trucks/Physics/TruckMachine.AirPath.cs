using Vanehour.Simulator.Faults;

namespace Vanehour.Simulator.Physics;

/// <content>The gas and the liquid in the tank, the pipe, the valves and what the pump moves.</content>
internal sealed partial class TruckMachine
{
    private double Displaced(FaultEffects faults)
    {
        var stuck = faults.StickingShare * Math.Clamp((StickingGoneAtC - Heat.HousingC) / 30, 0, 1);
        return ratedM3PerS * Speed * FlowRunFactor * (1 - stuck);
    }

    private double Slip(double ratio, FaultEffects faults) =>
        ratedM3PerS * slip.Share(Wear) * SlipRunFactor * slip.Change(Heat.CoreC, ratio) * (1 + (0.25 * (1 - faults.OilQuality)) + (0.1 * thinned));

    private void DrawTank(double seconds, in Controls controls, in Surroundings air, FaultEffects faults)
    {
        var ambient = air.BarometerKPa;
        var volume = tankM3 - LiquidM3;
        var open = controls.HoseAirM3PerS + (faults.LeakShare * ratedM3PerS) + (controls.Bleeds ? volume / BleedTimeConstantS : 0);
        var draws = controls.Valve == ValvePosition.Vacuum;

        // What the float has closed stays closed until the tank is vented: the vacuum holds the ball.
        FloatShut = draws && !controls.Bleeds && (FloatShut || LiquidShare >= faults.FloatClosesAt);
        var displaced = Displaced(faults);
        var slipped = Slip(dischargeKPa / Math.Max(1, draws ? inletKPa : ambient), faults);
        dischargeKPa = ambient + ((DischargeDropKPa + faults.DischargeDropKPa) * Square(flow / flowFromAir));

        // Flow through the pump less that through the relief valve = slope * inlet pressure - fixed.
        var crack = VacuumCrackKPa(faults);
        vacuumRelief.Set(draws ? ambient - inletKPa : 0, crack);
        var lift = vacuumRelief.IsOpen ? ReliefConductance() : 0;
        var slope = displaced + slipped + lift;
        var fixedFlow = (slipped * dischargeKPa) + (lift * (ambient - crack + ReliefValve.ReseatBelowKPa));
        var drop = (InletDropKPa + faults.InletDropKPa + (faults.SoftInletDropKPa * Square(flow / flowFromAir))) * nominalAmbientKPa / Square(flowFromAir);

        var liquid = 0.0;
        if (controls.LiquidM3PerS > 0 && LiquidShare < 0.985)
        {
            var wanted = controls.LiquidM3PerS * Math.Sqrt(Math.Max(0, ambient - tankKPa - LiftKPa) / Math.Max(1, controls.LiquidAtKPa - LiftKPa));
            liquid = Math.Min(wanted, ((0.985 * tankM3) - LiquidM3) / seconds);
        }

        var connected = draws && !FloatShut;
        var drawn = connected ? Drawn(tankKPa, slope, fixedFlow, drop) : 0;
        var rate = ((tankKPa * liquid) - drawn + (open * gasWarmth * (ambient - tankKPa))) / volume;

        // A linear equation over the step, with the slope of the flow at its beginning: exact without drops of pressure, stable for any step.
        const double Nudge = 0.05;
        var drawnBeside = connected ? Drawn(tankKPa + Nudge, slope, fixedFlow, drop) : 0;
        var decay = ((drawnBeside - drawn) / Nudge / volume) + (open * gasWarmth / volume) - (liquid / volume);
        var change = rate * (Math.Abs(decay * seconds) < 1e-9 ? seconds : (1 - Math.Exp(-decay * seconds)) / decay);
        var before = tankKPa;
        tankKPa = Math.Max(LeastKPa, tankKPa + change);
        var mean = (before + tankKPa) / 2;
        var drawnMean = connected ? Drawn(mean, slope, fixedFlow, drop) : 0;
        LiquidM3 = Math.Min(0.99 * tankM3, LiquidM3 + (liquid * seconds));
        LetInKPaM3 += open * (ambient - mean) * seconds;
        PumpedKPaM3 += drawnMean / gasWarmth * seconds;

        // Expansion cools the gas, walls and air that comes in warm it. The pressure goes with the temperature.
        var comingIn = open * Math.Max(0, ambient - mean) / (mean * volume);
        var cooling = Expansion * Math.Max(0, drawnMean) / mean / volume;
        var warming = (1 / traits.GasWarmingS) + comingIn;
        var settled = warming / (cooling + warming);
        var warmer = settled + ((gasWarmth - settled) * Math.Exp(-(cooling + warming) * seconds));
        tankKPa *= warmer / gasWarmth;
        gasWarmth = warmer;

        if (connected)
        {
            flow = Drawn(tankKPa, slope, fixedFlow, drop);
            inletKPa = (flow + fixedFlow) / slope;
        }
        else
        {
            // Neutral: the pump draws open air. Float shut: it has only the pipe to empty, and that is done within seconds.
            var target = draws ? Math.Max(1, fixedFlow / slope) : ambient;
            inletKPa = draws ? target + ((inletKPa - target) * Math.Exp(-seconds / 2)) : ambient;
            flow = Math.Max(0, (displaced * inletKPa) - (slipped * (dischargeKPa - inletKPa)));
        }

        TankVacuumKPa = ambient - tankKPa;
        LoadKPa = draws ? dischargeKPa - inletKPa : dischargeKPa - ambient;
        VacuumKPa = Math.Max(0, ambient - (draws ? inletKPa : tankKPa));
        PressureKPa = Math.Max(0, draws ? 0 : tankKPa - ambient);
    }

    // The flow m (kPa m3/s) out of a tank at pressure p: m = slope * inlet - fixed and p - inlet = drop * m^2 / p.
    private static double Drawn(double p, double slope, double fixedFlow, double drop)
    {
        var head = p - (fixedFlow / slope);
        if (head <= 0)
        {
            return slope * head;
        }

        var k = 1 / slope;
        return 2 * head / (k + Math.Sqrt((k * k) + (4 * drop / p * head)));
    }

    private void PressTank(double seconds, in Controls controls, in Surroundings air, FaultEffects faults)
    {
        var ambient = air.BarometerKPa;
        FloatShut = false;
        vacuumRelief.Set(0, 1);
        var gauge = tankKPa - ambient;
        var volume = tankM3 - LiquidM3;
        var crack = ReliefValve.CrackFor(build.Model.ReliefPressure!.Value.Kilopascals);
        pressureRelief.Set(gauge, crack);
        var lift = pressureRelief.IsOpen ? ReliefConductance() : 0;
        var displaced = Displaced(faults);
        var slipped = Slip(Math.Max(1, dischargeKPa / ambient), faults);
        var open = controls.HoseAirM3PerS + (faults.LeakShare * ratedM3PerS) + (controls.Bleeds ? volume / BleedTimeConstantS : 0);
        var liquid = LiquidM3 > 0 ? Math.Min(LiquidM3 / seconds, controls.LiquidM3PerS * Math.Sqrt(Math.Max(0, gauge) / Math.Max(1, controls.LiquidAtKPa))) : 0;

        // d(tank)/dt = (drawn from the air - slip - relief - open - liquid that makes room) / volume, linear in the tank's pressure.
        var slope = (slipped + lift + open + liquid) / volume;
        var target = ((displaced * ambient) + ((slipped + lift + open) * ambient) + (lift * (crack - ReliefValve.ReseatBelowKPa))) / volume;
        var level = slope > 1e-12 ? target / slope : tankKPa;
        var mean = tankKPa;
        tankKPa = slope > 1e-12 ? level + ((tankKPa - level) * Math.Exp(-slope * seconds)) : tankKPa + (target * seconds);
        mean = (mean + tankKPa) / 2;
        LiquidM3 = Math.Max(0, LiquidM3 - (liquid * seconds));
        PumpedKPaM3 -= ((displaced * ambient) - (slipped * (mean - ambient))) * seconds;
        LetInKPaM3 -= ((open * (mean - ambient)) + (lift * Math.Max(0, mean - ambient - crack + ReliefValve.ReseatBelowKPa))) * seconds;
        gasWarmth = 1;
        inletKPa = ambient;
        flow = Math.Max(0, (displaced * ambient) - (slipped * (tankKPa - ambient)));
        dischargeKPa = tankKPa + ((DischargeDropKPa + faults.DischargeDropKPa) * Square(flow / flowFromAir));
        LoadKPa = dischargeKPa - ambient;
        PressureKPa = Math.Max(0, tankKPa - ambient);
        VacuumKPa = 0;
    }

    private double ReliefConductance() => ratedM3PerS * (nominalAmbientKPa - build.Model.ReliefVacuum!.Value.Kilopascals) * 0.9 / ReliefValve.FullLiftKPa;
}
