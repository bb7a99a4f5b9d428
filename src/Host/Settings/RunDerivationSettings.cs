namespace Vanehour.Host.Settings;

/// <summary>How runs are derived, section <c>Runs</c>.</summary>
public sealed class RunDerivationSettings
{
    /// <summary>The reference vacuum of flow kept by pump model, kPa below ambient; models not listed take 40.</summary>
    public IDictionary<string, double> ReferenceVacuumKPa { get; } = new Dictionary<string, double>(StringComparer.Ordinal);
}
