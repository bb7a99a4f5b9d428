namespace Vanehour.Models.Expectations;

/// <summary>How the band of one pump model was set, and how many held-out runs it held.</summary>
public sealed record BandCoverage
{
    public required string PumpModel { get; init; }

    /// <summary>The level asked for, 0..1.</summary>
    public required double Level { get; init; }

    /// <summary>Runs whose scores set the band: of trucks and of a time the model had not seen.</summary>
    public required int CalibrationRuns { get; init; }

    /// <summary>Trucks that they are of.</summary>
    public required int CalibrationTrucks { get; init; }

    /// <summary>Half the band in standard deviations of a run; null where the runs were too few and the t interval is used.</summary>
    public double? HalfWidthSd { get; init; }

    /// <summary>Share of held-out runs inside bands set by the other trucks alone, 0..1; null without such a check.</summary>
    public double? HoldOutCoverage { get; init; }

    /// <summary>Its standard error over trucks, whose runs share the error of their level; null without such a check.</summary>
    public double? HoldOutCoverageSe { get; init; }
}
