namespace Vanehour.Models.PumpLives;

/// <summary>How lives are summarised.</summary>
public sealed record LifeOptions
{
    /// <summary>What a failure costs over what a planned rebuild costs; above 1. An invented default: set it from your own invoices.</summary>
    public double FailureCostRatio { get; init; } = 4;

    /// <summary>Failures below which no distribution is fitted; of our own.</summary>
    public int FewestFailures { get; init; } = 3;

    /// <summary>Of the intervals, 0..1.</summary>
    public double Level { get; init; } = 0.95;

    /// <summary>What is wrong with these options, in sentences; empty when nothing is.</summary>
    public IEnumerable<string> Problems()
    {
        if (FailureCostRatio is not (> 1 and <= 1000))
        {
            yield return "FailureCostRatio must be above 1 and at most 1000.";
        }

        if (FewestFailures is not (>= 2 and <= 100))
        {
            yield return "FewestFailures must be 2 to 100.";
        }

        if (Level is not (>= 0.5 and <= 0.999))
        {
            yield return "Level must be 0.5 to 0.999.";
        }
    }
}
