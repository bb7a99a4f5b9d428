using System.Globalization;
using Vanehour.Models.Analysis;
using Vanehour.Models.Indicators;
using Vanehour.Models.PumpLives;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Comparing;

//     runs of every pump --> slopes on the load by pump model, from how each pump's runs differ from its own mean; lasting shifts and outliers left out
//                  |                                   |
//                  v                                   v
//     each truck's median run, brought to the fleet's mean load --> logarithms --> Huber's mean of each model, one spread from truck to truck
//                                                                                               |
//                                                                       limits, t tests of each pair, pumps that it takes

/// <summary>
/// Compares pump models by oil use at the fleet's mean load. The units are trucks, not runs: runs of one truck share its pump, meter and crew. A starved pump, or one that
/// floods, moves neither its model's mean nor the spread far.
/// </summary>
/// <param name="options">How pump models are compared.</param>
/// <param name="expectation">Which runs can be used, and what a lasting shift is.</param>
public sealed class OilComparer(LifeOptions options, ExpectationOptions expectation)
{
    /// <summary>Compares.</summary>
    /// <param name="pumpModels">The models, in order of name; pumps of others take no part.</param>
    /// <param name="pumps">The pumps with their runs.</param>
    public MeasureComparison Compare(IReadOnlyList<string> pumpModels, IReadOnlyList<PumpHistory> pumps)
    {
        ArgumentNullException.ThrowIfNull(pumpModels);
        ArgumentNullException.ThrowIfNull(pumps);
        var rows = OilRows.Of([.. pumps.Where(p => pumpModels.Contains(p.Model.Model))], expectation);
        var levels = pumpModels.ToDictionary(m => m, m => rows.LevelsOf(m), StringComparer.Ordinal);
        var known = pumpModels.Where(m => levels[m].ByTruck.Count > 0).ToList();
        var values = known.SelectMany((m, g) => levels[m].ByTruck.Select(l => (Group: g, Log: Math.Log(l)))).ToList();
        var means = HuberGroups.Fit([.. values.Select(v => v.Log)], [.. values.Select(v => v.Group)], known.Count)
            .WithFurtherVariance([.. known.Select(m => levels[m].SlopeVariance)]);
        return new MeasureVerdicts(ComparedMeasure.OilUse, pumpModels, known, means, true, options).Compare(
            levels.Where(l => l.Value.Remark is not null).ToDictionary(l => l.Key, l => l.Value.Remark!, StringComparer.Ordinal),
            values.Count == 0 || rows.Columns.Length == 0
                ? []
                : [string.Create(CultureInfo.InvariantCulture, $"Oil: each truck's median run at the fleet's mean load ({string.Join(", ", rows.Columns.Zip(rows.Load, Said))}); trucks far from the others of their model count less.")]);
    }

    private static string Said(OilRows.Column column, double value) => column.IsShare
        ? string.Create(CultureInfo.InvariantCulture, $"{column.Name} {value:0 %} of rated")
        : string.Create(CultureInfo.InvariantCulture, $"{column.Name} {value:F0} {column.Unit}");
}
