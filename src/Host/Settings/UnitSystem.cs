namespace Vanehour.Host.Settings;

/// <summary>In which units people see quantities.</summary>
public enum UnitSystem
{
    /// <summary>inHg, psi, degF, US qt.</summary>
    Trade,

    /// <summary>kPa, Cel, L.</summary>
    Si,
}
