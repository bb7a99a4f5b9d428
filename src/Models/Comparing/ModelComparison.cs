using System.Collections.Immutable;
using Vanehour.Models.PumpLives;

namespace Vanehour.Models.Comparing;

/// <summary>Pump models compared by life, oil use, wear and cost.</summary>
/// <param name="Lives">By how long they last.</param>
/// <param name="Oil">By oil per PTO hour.</param>
/// <param name="Wear">By wear per 1 000 PTO hours; null where nothing was analysed yet.</param>
/// <param name="Costs">What each model has cost per PTO hour, in order of name.</param>
/// <param name="Curves">The survival of each model, in order of name.</param>
public sealed record ModelComparison(
    LifeComparison Lives, MeasureComparison Oil, MeasureComparison? Wear, ImmutableArray<ModelCost> Costs, ImmutableArray<LifeCurve> Curves);
