using Vanehour.Fleet;

namespace Vanehour.Simulator.Physics;

/// <summary>What the simulator knows of a pump model beyond the register.</summary>
/// <param name="Model">The register's data.</param>
/// <param name="VaneLifeH">Mean PTO hours of wear at the steady rate from 0 to 1.</param>
/// <param name="HeatRiseK">Scale of the temperature rise over ambient, K; about the rise at 45 kPa vacuum and rated speed.</param>
/// <param name="TankGal">Usual size of the tank it is put on, US gal.</param>
internal sealed record PumpBuild(PumpModel Model, double VaneLifeH, double HeatRiseK, double TankGal)
{
    /// <summary>Mean difference of pressure across the pump over the hours of ordinary duty, kPa: vanes wear at the model's rate there. Invented.</summary>
    public double UsualLoadKPa => 0.6 * Model.ReliefVacuum!.Value.Kilopascals;
}
