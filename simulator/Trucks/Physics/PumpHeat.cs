namespace Vanehour.Simulator.Physics;

/// <summary>
/// Two thermal masses: the core (rotor, vanes, oil film), in which heat arises, and the housing, which gives it to the air and carries the sensor. Everything is over the
/// cooling conductance at rated speed, so heat is in K and masses are in s. The rates are invented, of the size that pumps of some hundred kilograms show.
/// </summary>
internal sealed class PumpHeat
{
    public const double CoreMassS = 250;
    public const double HousingMassS = 1250;

    /// <summary>Conductance from core to housing over that from housing to air.</summary>
    public const double Inner = 4.5;

    /// <summary>Cooling at rest over that at rated speed: no fan, no flow of air.</summary>
    public const double RestCooling = 0.42;

    private const double LongestStepS = 30;

    public double CoreC { get; set; }

    public double HousingC { get; set; }

    /// <summary>Heat that has arisen, K s.</summary>
    public double HeatIn { get; private set; }

    /// <summary>Heat that has gone to the air or with liquid, K s.</summary>
    public double HeatOut { get; private set; }

    /// <summary>Lets time pass.</summary>
    /// <param name="seconds">How long.</param>
    /// <param name="heatK">Heat that arises, K: the rise it would keep up at rated cooling.</param>
    /// <param name="cooling">Cooling over that at rated speed.</param>
    /// <param name="ambientC">The air, Cel.</param>
    /// <param name="quenchK">Heat taken from the housing by liquid that passes, K.</param>
    public void Advance(double seconds, double heatK, double cooling, double ambientC, double quenchK = 0)
    {
        while (seconds > 0)
        {
            var step = Math.Min(LongestStepS, seconds);
            seconds -= step;
            var inner = Inner * (CoreC - HousingC);
            var outer = (cooling * (HousingC - ambientC)) + quenchK;
            CoreC += step * (heatK - inner) / CoreMassS;
            HousingC += step * (inner - outer) / HousingMassS;
            HeatIn += step * heatK;
            HeatOut += step * outer;
        }
    }

    public PumpHeat Clone() => (PumpHeat)MemberwiseClone();
}
