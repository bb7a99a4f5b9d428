using System.Collections.Immutable;
using System.Text.Json.Serialization;
using Vanehour.Models.Findings;
using Vanehour.Scoring;

namespace Vanehour.Host.Output;

/// <summary>An evaluation as other tools read it.</summary>
public sealed record EvaluationJson
{
    public required DateTimeOffset From { get; init; }

    public required DateTimeOffset To { get; init; }

    public required double EveryDays { get; init; }

    public required int Trucks { get; init; }

    public required double TruckYears { get; init; }

    public required ImmutableArray<FaultScore> Faults { get; init; }

    public required FaultScore All { get; init; }

    public required ShareWithInterval FoundShare { get; init; }

    public required ShareWithInterval SeriousBeforeHarmShare { get; init; }

    public required ShareWithInterval CauseFirstShare { get; init; }

    public required ShareWithInterval CauseInFirstThreeShare { get; init; }

    public required double? FalsePerTruckYear { get; init; }

    public required ShareWithInterval FalsePerTruckYearInterval { get; init; }

    public required ImmutableSortedDictionary<FindingKind, int> FalseByKind { get; init; }

    public required ImmutableSortedDictionary<FindingKind, int> OpenedByKind { get; init; }

    public required int Reopened { get; init; }

    /// <summary>Vanes that began to wear faster; null where none did.</summary>
    public required DriftScore? Drift { get; init; }

    /// <summary>The forecasts made about 200 h ahead; every distance is in <see cref="Forecasts"/>.</summary>
    public required ForecastJson Forecast { get; init; }

    public required ImmutableArray<ForecastJson> Forecasts { get; init; }

    /// <summary>Cost of policies; none is scored yet.</summary>
    public ImmutableArray<string> Plan { get; init; } = [];

    public required BaselinesJson Baselines { get; init; }

    /// <summary>An evaluation in this shape.</summary>
    public static EvaluationJson Of(EvaluationResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        ImmutableArray<ForecastJson> forecasts = [.. result.Forecasts.Select(f => new ForecastJson(f.AheadH, f.Lives, f.Coverage80.Mid, f.Coverage80, f.MedianRelativeError))];
        return new EvaluationJson
        {
            From = result.From,
            To = result.To,
            EveryDays = result.Every.TotalDays,
            Trucks = result.Trucks,
            TruckYears = result.TruckYears,
            Faults = result.Findings.Faults,
            All = result.Findings.All,
            FoundShare = result.Findings.Found,
            SeriousBeforeHarmShare = result.Findings.SeriousBeforeHarm,
            CauseFirstShare = result.Findings.CauseFirst,
            CauseInFirstThreeShare = result.Findings.CauseInFirstThree,
            FalsePerTruckYear = result.Findings.FalsePerTruckYear.Mid,
            FalsePerTruckYearInterval = result.Findings.FalsePerTruckYear,
            FalseByKind = result.Findings.FalseByKind,
            OpenedByKind = result.Findings.OpenedByKind,
            Reopened = result.Findings.Reopened,
            Drift = result.Drift,
            Forecast = forecasts.First(f => f.AheadH is 200),
            Forecasts = forecasts,
            Baselines = new BaselinesJson(new BaselineJson(
                result.Thresholds.Faults,
                result.Thresholds.Found,
                result.Thresholds.SeriousBeforeHarm,
                result.Thresholds.CauseInFirstThree,
                result.Thresholds.FalsePerTruckYear.Mid,
                result.Thresholds.FalsePerTruckYear)),
        };
    }

    /// <summary>Forecasts from one distance.</summary>
    public sealed record ForecastJson(
        double AheadH,
        int Lives,
        [property: JsonPropertyName("coverage_80")] double? Coverage80,
        [property: JsonPropertyName("coverage_80_interval")] ShareWithInterval Coverage80Interval,
        double? MedianRelativeError);

    /// <summary>What the findings are compared with.</summary>
    public sealed record BaselinesJson(BaselineJson FixedThresholds);

    /// <summary>One way of judging that is compared with.</summary>
    public sealed record BaselineJson(
        ImmutableArray<FaultScore> Faults,
        ShareWithInterval FoundShare,
        ShareWithInterval SeriousBeforeHarmShare,
        ShareWithInterval CauseInFirstThreeShare,
        double? FalsePerTruckYear,
        ShareWithInterval FalsePerTruckYearInterval);
}
