using System.Collections.Immutable;
using Vanehour.Models.Indicators;

namespace Vanehour.Models.Expectations;

/// <summary>Which candidate an indicator is judged by, and why.</summary>
public sealed record ModelChoice
{
    public required Indicator Indicator { get; init; }

    /// <summary>The unit of the errors.</summary>
    public required string Unit { get; init; }

    public required ChoiceStatus Status { get; init; }

    public required CandidateKind Chosen { get; init; }

    /// <summary>Why, in a sentence.</summary>
    public required string Reason { get; init; }

    /// <summary>Trucks in the comparison.</summary>
    public required int Trucks { get; init; }

    /// <summary>Held-out runs in the comparison.</summary>
    public required int Runs { get; init; }

    /// <summary>Every candidate, the simplest first; empty without a comparison.</summary>
    public required ImmutableArray<CandidateScore> Scores { get; init; }

    /// <summary>The bands by pump model.</summary>
    public required ImmutableArray<BandCoverage> Bands { get; init; }

    /// <summary>Average number of runs of a steady pump until EWMA or CUSUM cry wolf; see <see cref="ShiftOptions.InControlRuns"/>.</summary>
    public required double InControlRuns { get; init; }
}
