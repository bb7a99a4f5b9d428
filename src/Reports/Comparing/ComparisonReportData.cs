using Vanehour.Models.Comparing;
using Vanehour.Models.PumpLives;

namespace Vanehour.Reports.Comparing;

/// <summary>What the comparison of pump models is drawn from.</summary>
/// <param name="Comparison">The comparison.</param>
/// <param name="AsOf">As of when.</param>
/// <param name="Options">How it was compared.</param>
public sealed record ComparisonReportData(ModelComparison Comparison, DateTimeOffset AsOf, LifeOptions Options);
