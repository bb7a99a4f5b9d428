namespace Vanehour.Models.Indicators;

/// <summary>How expectations are learned. The defaults are chosen, not published, unless they say otherwise.</summary>
public sealed record ExpectationOptions
{
    /// <summary>Level of the bands, between 0 and 1.</summary>
    public double Level { get; init; } = 0.95;

    /// <summary>Runs shorter than this are left out, h.</summary>
    public double ShortestRunH { get; init; } = 0.1;

    /// <summary>Runs with a smaller covered share of their time are left out, 0..1.</summary>
    public double LowestCoverage { get; init; } = 0.6;

    /// <summary>A pump's own level is read from its first so many hours of runs after fitting (or after its data begin), h.</summary>
    public double OwnReferenceH { get; init; } = 60;

    /// <summary>With fewer hours of its own, and too few peers, a pump is too young to judge, h.</summary>
    public double YoungestOwnH { get; init; } = 20;

    /// <summary>From how many other trucks with the same pump model the spread from pump to pump is learned.</summary>
    public int FewestPeers { get; init; } = 3;

    /// <summary>The spread from pump to pump is taken as at least this share of their level.</summary>
    public double LeastPumpSpread { get; init; } = 0.1;

    /// <summary>Fewest runs of a pump model to fit.</summary>
    public int FewestRuns { get; init; } = 40;

    /// <summary>How deviations are watched; the fit leaves out what they show.</summary>
    public ShiftOptions Shift { get; init; } = new();

    /// <summary>What is wrong with these options, in sentences; empty when nothing is.</summary>
    public IEnumerable<string> Problems()
    {
        if (Level is not (> 0 and < 1))
        {
            yield return "The level of the bands must lie between 0 and 1.";
        }

        if (!(ShortestRunH > 0) || !(LowestCoverage is >= 0 and <= 1))
        {
            yield return "The shortest run must be above 0 h and the lowest coverage must lie between 0 and 1.";
        }

        if (!(YoungestOwnH > 0) || !(OwnReferenceH >= YoungestOwnH))
        {
            yield return "The hours that set a pump's own level must be at least those below which it is too young, and both above 0.";
        }

        if (FewestPeers < 2 || FewestRuns < 10 || !(LeastPumpSpread > 0))
        {
            yield return "At least 2 peers, 10 runs and a spread above 0 are needed.";
        }

        foreach (var problem in Shift.Problems())
        {
            yield return problem;
        }
    }
}
