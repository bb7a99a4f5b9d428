using System.Collections.Immutable;
using System.Globalization;

namespace Vanehour.Models.Runs;

/// <summary>What a fleet may set about the derivation of runs. A change shows in runs derived from then on; derive all again to apply it to the past.</summary>
public sealed record RunSettings
{
    /// <summary>The default reference vacuum, kPa: about 12 inHg.</summary>
    public const double DefaultReferenceVacuumKPa = 40;

    /// <summary>The reference vacuum of flow kept by pump model, kPa below ambient; a model not listed takes the default.</summary>
    public ImmutableDictionary<string, double> ReferenceVacuumKPa { get; init; } = ImmutableDictionary<string, double>.Empty;

    // Below the first a start-up check is not fitted, and no pump is sure to reach the second at any yard. Of our own.
    private const double LowestReferenceKPa = 10;
    private const double HighestReferenceKPa = 70;

    /// <summary>What is wrong with these settings, in sentences; empty when nothing is.</summary>
    public IEnumerable<string> Problems() => ReferenceVacuumKPa
        .Where(r => r.Value is not (>= LowestReferenceKPa and <= HighestReferenceKPa))
        .OrderBy(r => r.Key, StringComparer.Ordinal)
        .Select(r => string.Create(
            CultureInfo.InvariantCulture,
            $"The reference vacuum of {r.Key} must lie between {LowestReferenceKPa} and {HighestReferenceKPa} kPa, not at {r.Value}."));

    /// <summary>The reference vacuum for a pump model, kPa below ambient.</summary>
    public double ReferenceVacuumKPaOf(string? pumpModel) =>
        pumpModel is not null && ReferenceVacuumKPa.TryGetValue(pumpModel, out var own) ? own : DefaultReferenceVacuumKPa;
}
