using Vanehour.Simulator.Faults;

namespace Vanehour.Simulator.Physics;

//            air at the hose, leaks                         relief valve
//                     |                                          |
//   liquid --hose--> tank --float, hose, traps, filter--> four-way valve --> pump --> separator --> open air
//                 (gas, liquid)                            (gauge here)      |
//                                                                     heat, oil, vanes

/// <summary>
/// The air path, the pump and its oil and heat, advanced second by second. The gas in the tank is ideal, cools as it expands and is warmed by the walls; the pump displaces
/// by speed and lets some back by slip; drops of pressure are quadratic in the flow. Sizes without a source are invented.
/// </summary>
internal sealed partial class TruckMachine
{
    /// <summary>Share of the tank filled at which a healthy float shut-off closes.</summary>
    public const double FloatClosesAt = 0.97;

    // A tank that is open vents within some seconds.
    private const double BleedTimeConstantS = 3;

    // Healthy drop of pressure from tank to pump, and behind the pump, at a new pump's flow from the open air.
    private const double InletDropKPa = 0.4;
    private const double DischargeDropKPa = 1.5;

    // How much gas that expands cools: dT/T per share of volume drawn off. Dry air without heat from anywhere has 0.4; fog that forms gives heat back.
    private const double Expansion = 0.15;

    // Below anything that the pumps reach; keeps long steps with choked pipes from overshooting.
    private const double LeastKPa = 0.5;

    // Liquid must be lifted before it flows.
    private const double LiftKPa = 12;
    private const double SagAt50KPa = 0.012;
    private const double StickingGoneAtC = 55;
    private const double QuenchK = 45;
    private const double QuenchPeriodS = 240;
    private const double ThinningTimeConstantS = 900;
    private const double PurgeTimeConstantS = 4 * 3600;

    private readonly PumpBuild build;
    private readonly SlipLaw slip;
    private readonly double nominalAmbientKPa;
    private readonly double tankM3;
    private PumpTraits traits;
    private double ratedM3PerS;
    private double flowFromAir;
    private ReliefValve vacuumRelief = new();
    private ReliefValve pressureRelief = new();
    private double tankKPa;
    private double gasWarmth = 1;
    private double inletKPa;
    private double dischargeKPa;
    private double flow;
    private double lifeWearFactor = 1;
    private double thinned;

    /// <summary>A machine at rest with a new pump and an empty tank.</summary>
    /// <param name="build">The pump model.</param>
    /// <param name="traits">What is its own.</param>
    /// <param name="tankM3">Nominal volume of the tank, m3.</param>
    /// <param name="nominalAmbientKPa">Standard atmosphere at the yard, kPa absolute.</param>
    public TruckMachine(PumpBuild build, PumpTraits traits, double tankM3, double nominalAmbientKPa)
    {
        this.build = build;
        this.traits = traits;
        this.nominalAmbientKPa = nominalAmbientKPa;
        this.tankM3 = tankM3 * traits.VolumeFactor;
        slip = new SlipLaw(build.Model.FlowKeptLimit, nominalAmbientKPa);
        ratedM3PerS = build.Model.FreeAir.Si * traits.FlowFactor;
        flowFromAir = ratedM3PerS * nominalAmbientKPa;
        tankKPa = inletKPa = dischargeKPa = nominalAmbientKPa;
    }

    public PumpHeat Heat { get; private set; } = new();

    public OilSystem Oil { get; private set; } = new();

    /// <summary>0 as fitted, 1 at the limit.</summary>
    public double Wear { get; private set; }

    public double HoursSinceFitting { get; private set; }

    /// <summary>PTO time since the simulation began, s.</summary>
    public double EngagedS { get; private set; }

    /// <summary>By how much heat and oil shortage speed up wear just now; 1 in health.</summary>
    public double WearStress { get; private set; } = 1;

    /// <summary>The slowly wandering factor on the wear rate, about 1.</summary>
    public double WearWander { get; set; } = 1;

    /// <summary>A run's own factors on oil feed, displaced flow and slip, about 1: how the crew revs, cold oil, how the valve stands.</summary>
    public double OilRunFactor { get; set; } = 1;

    public double FlowRunFactor { get; set; } = 1;

    public double SlipRunFactor { get; set; } = 1;

    /// <summary>Share of the tank that is liquid, 0 to 1.</summary>
    public double LiquidShare => LiquidM3 / tankM3;

    public double LiquidM3 { get; private set; }

    /// <summary>Volume of the empty tank and hoses, m3.</summary>
    public double TankM3 => tankM3;

    /// <summary>Speed over rated speed.</summary>
    public double Speed { get; private set; }

    /// <summary>Vacuum on the gauge, kPa below ambient; 0 or more.</summary>
    public double VacuumKPa { get; private set; }

    /// <summary>Vacuum in the tank, kPa below ambient; what the pipe to the pump costs less than on the gauge.</summary>
    public double TankVacuumKPa { get; private set; }

    /// <summary>Pressure on the gauge, kPa above ambient; 0 or more.</summary>
    public double PressureKPa { get; private set; }

    /// <summary>Whether the float shut-off has closed the tank.</summary>
    public bool FloatShut { get; private set; }

    /// <summary>Difference of pressure across the pump, kPa.</summary>
    public double LoadKPa { get; private set; }

    /// <summary>Gas in the tank, kPa m3 at the temperature of the walls: proportional to its mass.</summary>
    public double GasKPaM3 => tankKPa * (tankM3 - LiquidM3) / gasWarmth;

    /// <summary>Gas that the pump has drawn from the tank or through the relief valve or blown into it since the simulation began, kPa m3.</summary>
    public double PumpedKPaM3 { get; private set; }

    /// <summary>Gas that came through leaks and hose (less what left by them) or left by the pressure relief valve, kPa m3.</summary>
    public double LetInKPaM3 { get; private set; }

    /// <summary>A copy that goes its own way.</summary>
    public TruckMachine Clone()
    {
        var copy = (TruckMachine)MemberwiseClone();
        copy.Heat = Heat.Clone();
        copy.Oil = Oil.Clone();
        copy.vacuumRelief = vacuumRelief.Clone();
        copy.pressureRelief = pressureRelief.Clone();
        return copy;
    }

    /// <summary>Starts a life at an age, worn as a healthy pump of that age would be.</summary>
    /// <param name="wearFactor">This life's own factor on the wear rate.</param>
    /// <param name="ageH">PTO hours since fitting.</param>
    public void StartLife(double wearFactor, double ageH = 0)
    {
        lifeWearFactor = wearFactor;
        HoursSinceFitting = ageH;
        Wear = VaneWearLaw.At(ageH, build.VaneLifeH / wearFactor);
        thinned = 0;
    }

    /// <summary>Puts another pump of the same model on.</summary>
    public void FitPump(PumpTraits traits)
    {
        this.traits = traits;
        ratedM3PerS = build.Model.FreeAir.Si * traits.FlowFactor;
        flowFromAir = ratedM3PerS * nominalAmbientKPa;
    }

    /// <summary>Empties the tank down to a share by other ways than the pump.</summary>
    public void LeaveLiquid(double share) => LiquidM3 = Math.Clamp(share, 0, 0.99) * tankM3;

    /// <summary>The share of the as-new net flow at the reference vacuum, rated speed and reference temperature that is left.</summary>
    public double FlowKept()
    {
        var leverage = SlipLaw.ReferenceVacuumKPa / (nominalAmbientKPa - SlipLaw.ReferenceVacuumKPa);
        return (1 - (slip.Share(Wear) * leverage)) / (1 - (SlipLaw.NewShare * leverage));
    }

    /// <summary>The gauge vacuum at which the relief valve cracks, kPa.</summary>
    public double VacuumCrackKPa(FaultEffects faults) =>
        ReliefValve.CrackFor(build.Model.ReliefVacuum!.Value.Kilopascals + traits.ReliefOffsetKPa) + faults.ReliefShiftKPa;

    /// <summary>The vacuum to which a new pump takes a closed tank, kPa: up to the relief valve as set, or near its ultimate where that is less.</summary>
    public double ReachableKPa(in Surroundings air) =>
        Math.Min(build.Model.ReliefVacuum!.Value.Kilopascals + traits.ReliefOffsetKPa, 0.97 * air.BarometerKPa / (1 + SlipLaw.NewShare));

    /// <summary>The opening at the hose that lets a new pump keep up a vacuum, m3/s.</summary>
    /// <param name="vacuumKPa">The vacuum, kPa; above 0.</param>
    /// <param name="liquidM3PerS">What comes in as liquid meanwhile, m3/s.</param>
    /// <param name="askedSpeed">Speed over rated speed.</param>
    /// <param name="air">The air round the truck.</param>
    public double HoseAirForVacuum(double vacuumKPa, double liquidM3PerS, double askedSpeed, in Surroundings air)
    {
        var inside = air.BarometerKPa - vacuumKPa;
        var net = ratedM3PerS * ((askedSpeed * inside) - (SlipLaw.NewShare * vacuumKPa));
        return Math.Max(0, (net - (inside * liquidM3PerS)) / vacuumKPa);
    }

    /// <summary>The opening at the hose that lets a new pump keep up a pressure, m3/s.</summary>
    /// <param name="pressureKPa">The pressure, kPa above ambient; above 0.</param>
    /// <param name="liquidM3PerS">What leaves as liquid meanwhile, m3/s.</param>
    /// <param name="askedSpeed">Speed over rated speed.</param>
    /// <param name="air">The air round the truck.</param>
    public double HoseAirForPressure(double pressureKPa, double liquidM3PerS, double askedSpeed, in Surroundings air)
    {
        var net = ratedM3PerS * ((askedSpeed * air.BarometerKPa) - (SlipLaw.NewShare * pressureKPa));
        return Math.Max(0, (net - ((air.BarometerKPa + pressureKPa) * liquidM3PerS)) / pressureKPa);
    }

    /// <summary>Lets time pass.</summary>
    /// <param name="seconds">How long: 1, or a few where nobody reads the gauges; any length with the power take-off off.</param>
    /// <param name="controls">What the crew does.</param>
    /// <param name="air">The air round the truck.</param>
    /// <param name="faults">What is wrong.</param>
    public void Advance(double seconds, in Controls controls, in Surroundings air, FaultEffects faults)
    {
        if (!controls.Engaged)
        {
            Rest(seconds, air);
            return;
        }

        var load = Math.Max(0, LoadKPa);

        // A coupling that slips so much stands still; it does not turn back.
        Speed = controls.AskedSpeed * faults.SpeedFactor * Math.Max(0, 1 - ((SagAt50KPa + faults.CouplingSlip) * load / 50));
        if (controls.Valve == ValvePosition.Pressure)
        {
            PressTank(seconds, controls, air, faults);
        }
        else
        {
            DrawTank(seconds, controls, air, faults);
        }

        RunPump(seconds, controls, air, faults);
        EngagedS += seconds;
        HoursSinceFitting += seconds / 3600;
    }

    private void Rest(double seconds, in Surroundings air)
    {
        Heat.Advance(seconds, 0, PumpHeat.RestCooling, air.AmbientC);
        Speed = LoadKPa = flow = VacuumKPa = PressureKPa = 0;
        tankKPa = inletKPa = dischargeKPa = air.BarometerKPa;
        gasWarmth = 1;
        FloatShut = false;
        vacuumRelief.Set(0, 1);
        pressureRelief.Set(0, 1);
    }

    private void RunPump(double seconds, in Controls controls, in Surroundings air, FaultEffects faults)
    {
        var load = Math.Max(0, LoadKPa);
        var ratedLPerH = build.Model.OilRate!.Value.LitresPerHour;
        var wet = faults.CarryOver > 0 && controls.LiquidM3PerS > 0 && controls.Valve == ValvePosition.Vacuum;
        thinned += wet
            ? (faults.CarryOver - thinned) * Math.Min(1, seconds / ThinningTimeConstantS)
            : -thinned * Math.Min(1, seconds / PurgeTimeConstantS);
        var quality = faults.OilQuality * (1 - (0.55 * thinned));
        var thin = 1 + (0.25 * (1 - faults.OilQuality));
        var feed = ratedLPerH * traits.OilFactor * OilRunFactor * Speed
            * (0.93 + (0.1 * load / 60))
            * (1 + (0.002 * (Heat.HousingC - 75)))
            * faults.OilFeedFactor * thin;
        Oil.Run(seconds, Math.Max(0, feed), ratedLPerH * faults.OilLeakShare, ratedLPerH * Math.Max(0.2, Speed) * 0.95, quality);

        var friction = faults.FrictionFactor * (1 + (0.9 * Oil.Shortage)) * (1 + (0.12 * Wear));
        var heat = build.HeatRiseK * traits.HeatFactor * ((0.55 * Speed * Math.Sqrt(Math.Max(0, Speed)) * friction) + (0.01 * load * Speed));
        var cooling = (PumpHeat.RestCooling + ((1 - PumpHeat.RestCooling) * Math.Sqrt(Math.Max(0, Speed)))) * faults.CoolingFactor;

        // Liquid comes in gulps: the temperature falls, then hunts.
        var gulp = wet ? faults.CarryOver * QuenchK * Math.Max(0, Math.Sin(2 * Math.PI * EngagedS / QuenchPeriodS)) : 0;
        Heat.Advance(seconds, heat, cooling, air.AmbientC, gulp);

        WearStress = VaneWearLaw.Stress(Oil.Shortage, Heat.CoreC);
        Wear += lifeWearFactor * WearWander * WearStress * faults.WearFactor * VaneWearLaw.Rate(Wear, HoursSinceFitting, Speed, load / build.UsualLoadKPa) * seconds / 3600 / build.VaneLifeH;
    }

    private static double Square(double x) => x * x;
}
