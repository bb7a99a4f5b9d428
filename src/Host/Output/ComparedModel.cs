using System.Collections.Immutable;
using Vanehour.Models.Comparing;
using Vanehour.Models.PumpLives;

namespace Vanehour.Host.Output;

/// <summary>All that is compared of one pump model.</summary>
/// <param name="Life">How long it lasts.</param>
/// <param name="Oil">Its oil use.</param>
/// <param name="Wear">Its wear; null where nothing was analysed yet.</param>
/// <param name="Cost">Its cost.</param>
internal sealed record ComparedModel(ModelLife Life, ModelMeasure Oil, ModelMeasure? Wear, ModelCost Cost)
{
    /// <summary>Why something is missing, in sentences.</summary>
    public ImmutableArray<string> Remarks => [.. Life.Remarks, .. Oil.Remarks, .. Wear?.Remarks ?? [], .. Cost.Remarks];

    /// <summary>The models of a comparison.</summary>
    public static IReadOnlyList<ComparedModel> Of(ModelComparison comparison) =>
    [
        .. comparison.Lives.Models.Select((m, i) => new ComparedModel(m, comparison.Oil.Models[i], comparison.Wear?.Models[i], comparison.Costs[i])),
    ];
}
