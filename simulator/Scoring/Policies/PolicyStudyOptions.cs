using Vanehour.Models.Analysis;
using Vanehour.Models.Planning;

namespace Vanehour.Scoring.Policies;

/// <summary>How policies are compared.</summary>
public sealed record PolicyStudyOptions
{
    public AnalysisOptions Analysis { get; init; } = new();

    /// <summary>Costs, and what the workshop can do for the plan; the other policies know no bounds.</summary>
    public PlanOptions Plan { get; init; } = new();

    /// <summary>Weeks from one plan to the next.</summary>
    public int PlanEveryWeeks { get; init; } = 2;

    /// <summary>Fixed intervals that are tried, PTO hours, h; each above 0.</summary>
    public IReadOnlyList<double> IntervalsH { get; init; } = [500, 600, 700, 800, 900, 1000, 1100, 1200, 1350, 1500];

    /// <summary>What is wrong with these options, in sentences; empty when nothing is.</summary>
    public IReadOnlyList<string> Problems() =>
    [
        .. Analysis.Problems(),
        .. Plan.Problems(),
        .. PlanEveryWeeks < 1 ? ["PlanEveryWeeks must be 1 or more."] : Array.Empty<string>(),
        .. IntervalsH.Count == 0 || IntervalsH.Any(i => !(i > 0) || !double.IsFinite(i)) ? ["At least one interval is needed, each above 0."] : Array.Empty<string>(),
    ];
}
