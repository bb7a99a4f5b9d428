using System.Collections.Immutable;
using Vanehour.Models.Expectations;
using Vanehour.Models.Findings;
using Vanehour.Models.Indicators;
using Vanehour.Models.Regression;
using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Results;

/// <summary>Everything the latest analysis found, true for <see cref="AsOf"/>.</summary>
public sealed record AnalysisSnapshot
{
    public required DateTimeOffset AsOf { get; init; }

    public required ImmutableArray<FittedModel> Models { get; init; }

    /// <summary>What the indicators are judged by, in order of indicator; empty where an earlier version analysed.</summary>
    public ImmutableArray<ModelChoice> Choices { get; init; } = [];

    /// <summary>In order of truck, then indicator.</summary>
    public required ImmutableArray<IndicatorSeries> Series { get; init; }

    /// <summary>One for each registered truck with a pump, in order of truck.</summary>
    public required ImmutableArray<WearForecast> Wear { get; init; }

    /// <summary>Open and acknowledged findings, most urgent first.</summary>
    public required ImmutableArray<Finding> Findings { get; init; }
}
