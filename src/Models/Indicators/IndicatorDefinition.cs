using System.Collections.Immutable;
using Vanehour.Fleet.Runs;

namespace Vanehour.Models.Indicators;

/// <summary>How an indicator is read from runs, and on what it may depend.</summary>
public sealed record IndicatorDefinition
{
    public required Indicator Indicator { get; init; }

    /// <summary>The indicator in words.</summary>
    public required string Name { get; init; }

    /// <summary>Its unit's symbol.</summary>
    public required string Unit { get; init; }

    /// <summary>The value of a run; null where it was not measured.</summary>
    public required Func<Run, double?> Seen { get; init; }

    /// <summary>The weight of a run: its noise variance is the residual variance over this.</summary>
    public required Func<Run, double> Weight { get; init; }

    /// <summary>What it may depend on.</summary>
    public required ImmutableArray<Predictor> Predictors { get; init; }

    /// <summary>The smallest lasting deviation that matters to a person, in the indicator's unit, given the expectation.</summary>
    public required Func<double, double> MattersFrom { get; init; }
}
