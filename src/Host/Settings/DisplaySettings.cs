using Vanehour.Reports;

namespace Vanehour.Host.Settings;

/// <summary>How people see quantities.</summary>
public sealed class DisplaySettings
{
    /// <summary>Trade (inHg, psi, degF, qt) or Si (kPa, Cel, L).</summary>
    public UnitSystem Units { get; set; } = UnitSystem.Trade;

    /// <summary>Whether that is the trade's units.</summary>
    public bool IsTrade => Units == UnitSystem.Trade;

    /// <summary>The units for reports.</summary>
    public DisplayUnits ForReports => IsTrade ? DisplayUnits.Trade : DisplayUnits.Si;
}
