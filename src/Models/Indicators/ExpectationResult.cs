using System.Collections.Immutable;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Indicators;

/// <summary>What was learned of one indicator of one pump model, and how each pump stands to it.</summary>
/// <param name="Model">The fit.</param>
/// <param name="Pumps">One for each pump life given, in the same order.</param>
public sealed record ExpectationResult(FittedModel Model, ImmutableArray<PumpJudgement> Pumps);
