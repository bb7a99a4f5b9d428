using System.Collections.Immutable;
using Vanehour.Models.Findings;
using Vanehour.Models.Results;

namespace Vanehour.Models.Analysis;

/// <summary>What an analysis found and what it changes in the findings kept.</summary>
/// <param name="Snapshot">The results.</param>
/// <param name="ChangedFindings">Findings to keep: opened, continued, closed.</param>
public sealed record AnalysisOutcome(AnalysisSnapshot Snapshot, ImmutableArray<Finding> ChangedFindings);
