using Vanehour.Fleet;

namespace Vanehour.Simulator.Faults;

/// <summary>A fault that grows from its onset to its full severity in a straight line and stays until it is repaired.</summary>
/// <param name="Cause">Which; not one of the store's.</param>
/// <param name="Onset">When it begins.</param>
/// <param name="Growth">How long it takes to full severity; zero is a step.</param>
/// <param name="Severity">Full severity, above 0, at most 1.</param>
/// <param name="Ends">When it is repaired; null: not within the time simulated.</param>
/// <param name="Variant">Which of the ways in which a cause can show, where it has several.</param>
internal sealed record InjectedFault(Cause Cause, DateTimeOffset Onset, TimeSpan Growth, double Severity, DateTimeOffset? Ends = null, int Variant = 0)
{
    /// <summary>How much faster than otherwise vanes wear at full severity of <see cref="Cause.VanesWorn"/>, which has no other cause then.</summary>
    public const double FastWearFactor = 2.5;

    private readonly long onsetS = Onset.ToUnixTimeSeconds();
    private readonly long endsS = Ends?.ToUnixTimeSeconds() ?? long.MaxValue;

    /// <summary>Whether it shortens life or can stop the truck.</summary>
    public bool Serious => Cause is Cause.OilLineChoked or Cause.OilWrongOrThinned or Cause.CarryOver or Cause.CoolingPoor or Cause.DischargeCarboned
        or Cause.Overspeed or Cause.ReliefHigh or Cause.ReliefStuck or Cause.CouplingSlip;

    /// <summary>What the shop writes down when it repairs it, with a note where the kind alone does not say what was done.</summary>
    public (ServiceKind Kind, string? Note) Repair => Cause switch
    {
        Cause.OilLineChoked => (ServiceKind.Flush, "Oil line blown through"),
        Cause.OilWrongOrThinned => (ServiceKind.Flush, "Oil changed for the grade the maker asks for"),
        Cause.VanesSticking => (ServiceKind.Flush, "Vanes freed"),
        Cause.OilFeedHigh => (ServiceKind.Inspection, "Oil feed set back to the maker's rate"),
        Cause.OilLeak => (ServiceKind.Inspection, "Oil leak stopped"),
        Cause.CarryOver or Cause.FloatClosesEarly => (ServiceKind.FloatShutoff, null),
        Cause.InletFilterClogged => (ServiceKind.InletFilter, null),
        Cause.HoseLiningInlet or Cause.HoseLiningDischarge => (ServiceKind.Hose, null),
        Cause.LeakTankSide => (ServiceKind.Gasket, null),
        Cause.ReliefLow or Cause.ReliefHigh or Cause.ReliefStuck => (ServiceKind.ReliefVacuumSet, null),
        Cause.CouplingSlip => (ServiceKind.Coupling, null),
        Cause.DischargeCarboned => (ServiceKind.Inspection, "Discharge cleared of carbon"),
        Cause.CoolingPoor => (ServiceKind.Inspection, "Cooling fins cleaned"),
        Cause.Overspeed or Cause.Underspeed => (ServiceKind.Inspection, "Drive speed set"),
        Cause.SensorWrong => (ServiceKind.Inspection, "Sensor replaced"),
        Cause.GatewaySilent => (ServiceKind.Inspection, "Gateway replaced"),
        Cause.MeterReset => (ServiceKind.Inspection, "Hour meter looked at"),
        _ => throw NoPhysics(),
    };

    public bool IsOn(long unixS) => unixS >= onsetS && unixS < endsS;

    /// <summary>Severity at an instant, 0 before the onset and after the repair.</summary>
    public double SeverityAt(long unixS)
    {
        if (!IsOn(unixS))
        {
            return 0;
        }

        return Growth <= TimeSpan.Zero ? Severity : Severity * Math.Min(1, (unixS - onsetS) / Growth.TotalSeconds);
    }

    /// <summary>Adds what this fault does at an instant. Sizes at full severity are invented.</summary>
    /// <exception cref="NotSupportedException">The simulator has no physics for the cause.</exception>
    public FaultEffects AddTo(FaultEffects effects, long unixS)
    {
        // A meter that has started anew stays behind for good.
        if (Cause == Cause.MeterReset)
        {
            return unixS >= onsetS ? effects with { MeterResetAtS = Math.Max(effects.MeterResetAtS, onsetS) } : effects;
        }

        var s = SeverityAt(unixS);
        if (s <= 0)
        {
            return effects;
        }

        return Cause switch
        {
            Cause.OilFeedHigh => effects with { OilFeedFactor = effects.OilFeedFactor * (1 + (0.9 * s)) },
            Cause.OilLeak => effects with { OilLeakShare = effects.OilLeakShare + (0.9 * s) },
            Cause.OilLineChoked => effects with { OilFeedFactor = effects.OilFeedFactor * (1 - (0.9 * s)) },
            Cause.OilWrongOrThinned => effects with { OilQuality = effects.OilQuality * (1 - (0.6 * s)) },
            Cause.CarryOver => effects with { CarryOver = Math.Min(1, effects.CarryOver + s) },
            Cause.InletFilterClogged => effects with { InletDropKPa = effects.InletDropKPa + (18 * s) },
            Cause.HoseLiningInlet => effects with { SoftInletDropKPa = effects.SoftInletDropKPa + (35 * s) },
            Cause.HoseLiningDischarge => effects with { DischargeDropKPa = effects.DischargeDropKPa + (60 * s) },
            Cause.LeakTankSide => effects with { LeakShare = effects.LeakShare + (0.12 * s) },
            Cause.ReliefLow => effects with { ReliefShiftKPa = effects.ReliefShiftKPa - (10 * s) },
            Cause.ReliefHigh => effects with { ReliefShiftKPa = effects.ReliefShiftKPa + (8 * s) },
            Cause.ReliefStuck => effects with { ReliefShiftKPa = effects.ReliefShiftKPa + (30 * s) },
            Cause.FloatClosesEarly => effects with { FloatClosesAt = Math.Min(effects.FloatClosesAt, Physics.TruckMachine.FloatClosesAt - (0.75 * s)) },
            Cause.VanesSticking => effects with { StickingShare = Math.Min(0.6, effects.StickingShare + (0.4 * s)) },
            Cause.DischargeCarboned => effects with
            {
                DischargeDropKPa = effects.DischargeDropKPa + (20 * s),
                FrictionFactor = effects.FrictionFactor * (1 + (0.9 * s)),
            },
            Cause.Overspeed => effects with { SpeedFactor = effects.SpeedFactor * (1 + (0.28 * s)) },
            Cause.Underspeed => effects with { SpeedFactor = effects.SpeedFactor * (1 - (0.28 * s)) },
            Cause.CouplingSlip => effects with { CouplingSlip = effects.CouplingSlip + (0.3 * s) },
            Cause.CoolingPoor => effects with { CoolingFactor = effects.CoolingFactor / (1 + (0.5 * s)) },
            Cause.SensorWrong => (Variant % 3) switch
            {
                0 => effects with { GaugeGain = effects.GaugeGain * (1 - (0.2 * s)) },
                1 => effects with { GaugeStuck = true },
                _ => effects with { TemperatureOffsetK = effects.TemperatureOffsetK - (25 * s) },
            },
            Cause.GatewaySilent => effects with { Silent = true },
            Cause.VanesWorn => effects with { WearFactor = effects.WearFactor * (1 + ((FastWearFactor - 1) * s)) },
            _ => throw NoPhysics(),
        };
    }

    private NotSupportedException NoPhysics() => new($"The simulator has no physics for {Cause}.");
}
