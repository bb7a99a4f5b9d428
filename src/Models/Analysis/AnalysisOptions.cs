using Vanehour.Models.Expectations;
using Vanehour.Models.Findings;
using Vanehour.Models.Indicators;
using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Analysis;

/// <summary>Settings of an analysis.</summary>
public sealed record AnalysisOptions
{
    /// <summary>Of every generator: the same seed, runs and register give the same results.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>How many analyses are kept; one of a dozen trucks over half a year takes some megabytes.</summary>
    public int KeepAnalyses { get; init; } = 10;

    public ExpectationOptions Expectation { get; init; } = new();

    /// <summary>How the way to learn expectations is chosen.</summary>
    public ChoiceOptions Choice { get; init; } = new();

    public WearOptions Wear { get; init; } = new();

    public FindingOptions Findings { get; init; } = new();

    /// <summary>What is wrong with these options, in sentences; empty when nothing is.</summary>
    public IReadOnlyList<string> Problems() =>
    [
        .. KeepAnalyses < 1 ? ["At least one analysis must be kept."] : Array.Empty<string>(),
        .. Expectation.Problems(),
        .. Choice.Problems(),
        .. Wear.Problems(),
        .. Findings.Problems(),
    ];
}
