using System.Collections.Immutable;

namespace Vanehour.Models.Indicators;

/// <summary>One indicator of one truck over time, across all its lives.</summary>
public sealed record IndicatorSeries
{
    public required string Truck { get; init; }

    public required Indicator Indicator { get; init; }

    /// <summary>The level of the prediction intervals, 0..1.</summary>
    public required double Level { get; init; }

    /// <summary>The latest runs of the latest life against its own past and against its peers; null where nothing could be judged.</summary>
    public PumpLenses? Lenses { get; init; }

    /// <summary>In order of time.</summary>
    public required ImmutableArray<IndicatorPoint> Points { get; init; }
}
