using System.Collections.Immutable;
using Vanehour.Models.Indicators;

namespace Vanehour.Models.Expectations;

/// <summary>What was learned of one indicator of a fleet.</summary>
/// <param name="Models">By pump model, in order of name.</param>
/// <param name="Choice">What they are judged by.</param>
public sealed record FleetExpectationResult(ImmutableArray<ExpectationResult> Models, ModelChoice Choice);
