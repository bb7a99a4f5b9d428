using Vanehour.Models.Comparing;
using Vanehour.Models.PumpLives;

namespace Vanehour.Reports.Comparing;

/// <summary>One pump model of a picture.</summary>
/// <param name="Life">How long it lasts.</param>
/// <param name="Curve">Its survival.</param>
/// <param name="Oil">Its oil use.</param>
/// <param name="Wear">Its wear; null where nothing was analysed.</param>
/// <param name="Cost">Its cost.</param>
/// <param name="Style">How it is told from the others.</param>
internal sealed record ComparedRow(ModelLife Life, LifeCurve Curve, ModelMeasure Oil, ModelMeasure? Wear, ModelCost Cost, ModelStyle Style)
{
    public string Name => Life.PumpModel;

    /// <summary>The models that fit on a page, those with most lives, in order of name.</summary>
    public static IReadOnlyList<ComparedRow> Of(ModelComparison comparison)
    {
        var shown = Enumerable.Range(0, comparison.Lives.Models.Length)
            .OrderByDescending(i => comparison.Lives.Models[i].Lives)
            .Take(ModelStyle.All.Count)
            .Order()
            .ToList();
        return
        [
            .. shown.Select((i, at) => new ComparedRow(
                comparison.Lives.Models[i], comparison.Curves[i], comparison.Oil.Models[i], comparison.Wear?.Models[i], comparison.Costs[i], ModelStyle.All[at])),
        ];
    }
}
