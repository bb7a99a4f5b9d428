namespace Vanehour.Simulator.Faults;

/// <summary>What the faults of a truck do to its physics at an instant.</summary>
internal sealed record FaultEffects
{
    public static readonly FaultEffects None = new();

    /// <summary>Oil feed over healthy feed.</summary>
    public double OilFeedFactor { get; init; } = 1;

    /// <summary>Oil leaking while running, over the rated feed.</summary>
    public double OilLeakShare { get; init; }

    /// <summary>How well a litre of oil lubricates and seals, 1 in health.</summary>
    public double OilQuality { get; init; } = 1;

    /// <summary>How much liquid gets past the float shut-offs while loading, 0..1.</summary>
    public double CarryOver { get; init; }

    /// <summary>Drop of pressure from tank to pump at a new pump's flow from the open air, on top of the healthy one, kPa.</summary>
    public double InletDropKPa { get; init; }

    /// <summary>As <see cref="InletDropKPa"/>, of a lining that the flow itself sucks shut: it grows with the flow squared once more.</summary>
    public double SoftInletDropKPa { get; init; }

    /// <summary>Back pressure behind the pump at a new pump's flow from the open air, on top of the healthy one, kPa.</summary>
    public double DischargeDropKPa { get; init; }

    /// <summary>Tank-side leak conductance over the displaced flow.</summary>
    public double LeakShare { get; init; }

    /// <summary>How far the vacuum relief valve has moved, kPa; above 0 it lifts later.</summary>
    public double ReliefShiftKPa { get; init; }

    /// <summary>Share of the tank filled at which the float shut-off closes.</summary>
    public double FloatClosesAt { get; init; } = Physics.TruckMachine.FloatClosesAt;

    /// <summary>Share of the displaced flow lost while the vanes stick in their slots; they come free as the pump warms.</summary>
    public double StickingShare { get; init; }

    /// <summary>Speed over the speed asked.</summary>
    public double SpeedFactor { get; init; } = 1;

    /// <summary>Share of speed that the coupling loses at 50 kPa across the pump.</summary>
    public double CouplingSlip { get; init; }

    /// <summary>The rate at which the vanes wear over what everything else makes of it.</summary>
    public double WearFactor { get; init; } = 1;

    /// <summary>Cooling over healthy cooling.</summary>
    public double CoolingFactor { get; init; } = 1;

    /// <summary>Friction over healthy friction.</summary>
    public double FrictionFactor { get; init; } = 1;

    /// <summary>What the vacuum and pressure gauge shows over what it showed when it was fitted.</summary>
    public double GaugeGain { get; init; } = 1;

    /// <summary>Whether the vacuum gauge shows the same whatever happens.</summary>
    public bool GaugeStuck { get; init; }

    /// <summary>What the pump's temperature sensor shows too much, K.</summary>
    public double TemperatureOffsetK { get; init; }

    /// <summary>When the hour meter last started anew from 0, s since 1970; the least value where it never did.</summary>
    public long MeterResetAtS { get; init; } = long.MinValue;

    /// <summary>Whether the gateway sends nothing.</summary>
    public bool Silent { get; init; }
}
