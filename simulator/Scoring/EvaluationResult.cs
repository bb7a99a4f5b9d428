using System.Collections.Immutable;

namespace Vanehour.Scoring;

/// <summary>What an evaluation found.</summary>
public sealed record EvaluationResult
{
    public required DateTimeOffset From { get; init; }

    public required DateTimeOffset To { get; init; }

    /// <summary>How far apart the analyses lay.</summary>
    public required TimeSpan Every { get; init; }

    public required int Trucks { get; init; }

    /// <summary>Years of trucks looked at.</summary>
    public required double TruckYears { get; init; }

    /// <summary>The findings.</summary>
    public required TruthScore Findings { get; init; }

    /// <summary>Fixed thresholds on the same runs.</summary>
    public required TruthScore Thresholds { get; init; }

    /// <summary>Vanes that began to wear faster; null where none did.</summary>
    public DriftScore? Drift { get; init; }

    /// <summary>Forecasts of the wear limit, by how far ahead they were made.</summary>
    public required ImmutableArray<ForecastScore> Forecasts { get; init; }
}
