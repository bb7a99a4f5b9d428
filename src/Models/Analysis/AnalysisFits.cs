using System.Collections.Immutable;
using Vanehour.Models.Expectations;
using Vanehour.Models.Indicators;
using Vanehour.Models.Regression;
using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Analysis;

/// <summary>What was fitted to a fleet, before anything is judged.</summary>
/// <param name="Data">The fleet.</param>
/// <param name="Models">The fits, in order of key.</param>
/// <param name="Choices">By what each indicator is judged.</param>
/// <param name="Judgements">How each pump stands to each indicator.</param>
/// <param name="Wear">The wear of every running pump.</param>
public sealed record AnalysisFits(
    FleetData Data,
    ImmutableArray<FittedModel> Models,
    ImmutableArray<ModelChoice> Choices,
    ImmutableArray<PumpJudgement> Judgements,
    ImmutableArray<WearForecast> Wear);
