namespace Vanehour.Models.PumpLives;

/// <summary>How lives are summarised.</summary>
public sealed record LifeOptions
{
    /// <summary>What a failure costs over what a planned rebuild costs; above 1. An invented default: set it from your own invoices.</summary>
    public double FailureCostRatio { get; init; } = 4;

    /// <summary>What a planned rebuild costs, in money; above 0. Left at 1, costs are counted in planned rebuilds.</summary>
    public double PlannedRebuildCost { get; init; } = 1;

    /// <summary>Whether costs are counted in money.</summary>
    public bool CostsAreMoney => PlannedRebuildCost != 1;

    /// <summary>Failures below which no distribution is fitted; of our own.</summary>
    public int FewestFailures { get; init; } = 3;

    /// <summary>Pumps of a model below which its oil use and wear have no limits and are not tested against others; of our own.</summary>
    public int FewestPumps { get; init; } = 3;

    /// <summary>Of the intervals, 0..1.</summary>
    public double Level { get; init; } = 0.95;

    /// <summary>Two models differ where the corrected p is below it, 0..1.</summary>
    public double Significance { get; init; } = 0.05;

    /// <summary>The ratio of lives, of oil use or of wear that a comparison should see; above 1. A third more, of our own.</summary>
    public double LifeRatio { get; init; } = 4.0 / 3;

    /// <summary>The chance with which it should, 0..1.</summary>
    public double Power { get; init; } = 0.8;

    /// <summary>What is wrong with these options, in sentences; empty when nothing is.</summary>
    public IEnumerable<string> Problems()
    {
        if (FailureCostRatio is not (> 1 and <= 1000))
        {
            yield return "FailureCostRatio must be above 1 and at most 1000.";
        }

        if (PlannedRebuildCost is not (> 0 and <= 1e9))
        {
            yield return "PlannedRebuildCost must be above 0 and at most 1e9.";
        }

        if (FewestPumps is not (>= 2 and <= 100))
        {
            yield return "FewestPumps must be 2 to 100.";
        }

        if (FewestFailures is not (>= 2 and <= 100))
        {
            yield return "FewestFailures must be 2 to 100.";
        }

        if (Level is not (>= 0.5 and <= 0.999))
        {
            yield return "Level must be 0.5 to 0.999.";
        }

        if (Significance is not (> 0 and <= 0.5) || LifeRatio is not (> 1 and <= 10) || Power is not (>= 0.5 and <= 0.999))
        {
            yield return "Significance must be above 0 and at most 0.5, LifeRatio above 1 and at most 10, Power 0.5 to 0.999.";
        }
    }
}
