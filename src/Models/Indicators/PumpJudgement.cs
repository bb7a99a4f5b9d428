using System.Collections.Immutable;
using Vanehour.Models.Analysis;

namespace Vanehour.Models.Indicators;

/// <summary>One indicator of one pump life, run by run against its expectation.</summary>
public sealed record PumpJudgement
{
    public required PumpHistory Pump { get; init; }

    public required IndicatorDefinition Definition { get; init; }

    /// <summary>Every run that could be read, in order, with or without an expectation.</summary>
    public required ImmutableArray<IndicatorPoint> Points { get; init; }

    /// <summary>The runs that could be judged, in order.</summary>
    public required ImmutableArray<JudgedRun> Judged { get; init; }

    /// <summary>Correlation of neighbouring runs' noise, 0 and below 1.</summary>
    public required double Rho { get; init; }

    /// <summary>Its latest runs against its own past and against its peers; null where nothing could be judged.</summary>
    public PumpLenses? Lenses { get; init; }
}
