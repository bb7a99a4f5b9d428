namespace Vanehour.Simulator.Physics;

/// <summary>
/// How the slip conductance C follows vane wear, temperature and pressure ratio. At the core temperature and pressure ratio of a morning's check it is such that the
/// flow kept at the reference vacuum falls straight from 1 to the model's limit as wear goes from 0 to 1.
/// </summary>
/// <param name="LimitFlowKept">The model's flow_kept_limit, above 0 and below 1.</param>
/// <param name="NominalAmbientKPa">The yard's standard ambient pressure, kPa absolute.</param>
internal readonly record struct SlipLaw(double LimitFlowKept, double NominalAmbientKPa)
{
    /// <summary>Vacuum at which flow kept is defined, kPa below ambient.</summary>
    public const double ReferenceVacuumKPa = 40;

    /// <summary>Core temperature at which flow kept is defined, Cel: a pump a minute after a cool start.</summary>
    public const double ReferenceCoreC = 35;

    /// <summary>Slip of a new pump over its displaced flow at rated speed; invented, gives an ultimate vacuum of about 28 inHg at sea level.</summary>
    public const double NewShare = 0.06;

    // Hot oil is thin and seals less; a high pressure ratio leaves less oil in the gaps. Both invented, small.
    private const double PerKelvin = 0.001;
    private const double PerRatio = 0.05;

    private double Leverage => ReferenceVacuumKPa / (NominalAmbientKPa - ReferenceVacuumKPa);

    /// <summary>C over the displaced flow at rated speed, at the reference temperature and vacuum.</summary>
    /// <param name="wear">0 as new, 1 at the limit; above 1 goes on.</param>
    public double Share(double wear) => NewShare + (wear * (1 - LimitFlowKept) * (1 - (NewShare * Leverage)) / Leverage);

    /// <summary>By how much temperature and pressure ratio raise it; 1 at the reference.</summary>
    /// <param name="coreC">Temperature of vanes and rotor, Cel.</param>
    /// <param name="ratio">Discharge over inlet pressure, absolute; 1 or more.</param>
    public double Change(double coreC, double ratio)
    {
        var atReference = NominalAmbientKPa / (NominalAmbientKPa - ReferenceVacuumKPa);
        return Math.Clamp(1 + (PerKelvin * (coreC - ReferenceCoreC)), 0.85, 1.3) * (1 + (PerRatio * (Math.Min(ratio, 6) - atReference)));
    }
}
