using Vanehour.Models.Analysis;
using Vanehour.Models.Indicators;
using Vanehour.Models.PumpLives;
using Vanehour.Models.Survival;
using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Comparing;

/// <summary>Compares the pump models of a fleet by all that is known of them.</summary>
/// <param name="options">How.</param>
/// <param name="expectation">Which runs can be used for oil.</param>
public sealed class ModelComparer(LifeOptions options, ExpectationOptions expectation)
{
    /// <summary>Compares.</summary>
    /// <param name="table">The lives.</param>
    /// <param name="pumps">The pumps with their runs.</param>
    /// <param name="wear">The wear forecasts of the latest analysis; null where there was none.</param>
    public ModelComparison Compare(LifeTable table, IReadOnlyList<PumpHistory> pumps, IReadOnlyList<WearForecast>? wear)
    {
        ArgumentNullException.ThrowIfNull(table);
        ArgumentNullException.ThrowIfNull(pumps);
        var lives = new LifeComparer(options).Of(table);
        var names = lives.Models.Select(m => m.PumpModel).ToList();
        var byModel = table.Lives.ToLookup(l => l.PumpModel, StringComparer.Ordinal);
        return new ModelComparison(
            lives,
            new OilComparer(options, expectation).Compare(names, pumps),
            wear is null ? null : new WearComparer(options).Compare(names, wear, pumps),
            new CostComparer(options).Compare(lives.Models, table),
            [.. lives.Models.Select(m =>
            {
                var times = byModel[m.PumpModel].Select(l => l.Lifetime).ToList();
                return new LifeCurve(m.PumpModel, KaplanMeier.Estimate(times, options.Level), [.. times], m.Weibull);
            })]);
    }
}
