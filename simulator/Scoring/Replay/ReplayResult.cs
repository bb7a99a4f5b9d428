using System.Collections.Immutable;
using Vanehour.Models.VaneWear;

namespace Vanehour.Scoring;

/// <summary>What analyses at regular instants made of a fleet.</summary>
/// <param name="From">The first analysis.</param>
/// <param name="To">The last analysis.</param>
/// <param name="Every">How far apart they lie.</param>
/// <param name="TruckYears">Years of trucks looked at.</param>
/// <param name="Findings">Every finding about a truck, in order of opening.</param>
/// <param name="Forecasts">The wear forecasts of each analysis.</param>
public sealed record ReplayResult(
    DateTimeOffset From,
    DateTimeOffset To,
    TimeSpan Every,
    double TruckYears,
    ImmutableArray<FindingStory> Findings,
    ImmutableArray<WearForecast> Forecasts);
