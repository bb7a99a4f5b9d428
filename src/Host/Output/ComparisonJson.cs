using System.Collections.Immutable;
using System.Text.Json.Serialization;
using Vanehour.Models.Comparing;
using Vanehour.Models.PumpLives;
using Vanehour.Models.Survival;

namespace Vanehour.Host.Output;

/// <summary>A comparison of pump models as 'compare --json' gives it.</summary>
/// <param name="Models">Each model.</param>
/// <param name="LogRank">The test of all of them at once; null with fewer than two, or too few failures to test.</param>
/// <param name="Pairs">Each pair.</param>
/// <param name="CostUnit">What costs are counted in: planned_rebuild, or money as in the setting Life:PlannedRebuildCost.</param>
/// <param name="Remarks">How oil and wear were brought to one load, in sentences.</param>
public sealed record ComparisonJson(
    ImmutableArray<ComparisonJson.Model> Models, ComparisonJson.Test? LogRank, ImmutableArray<ComparisonJson.Pair> Pairs, string CostUnit, ImmutableArray<string> Remarks)
{
    /// <summary>From what was compared.</summary>
    public static ComparisonJson Of(ModelComparison comparison, LifeOptions options)
    {
        ArgumentNullException.ThrowIfNull(comparison);
        ArgumentNullException.ThrowIfNull(options);
        return new ComparisonJson(
            [.. ComparedModel.Of(comparison).Select(Model.Of)],
            comparison.Lives.LogRank is { } test ? new Test(test.ChiSquare, test.DegreesOfFreedom, test.P) : null,
            [.. comparison.Lives.Pairs.Select(p => Pair.Of(p, comparison))],
            options.CostsAreMoney ? "money" : "planned_rebuild",
            [.. comparison.Oil.Remarks, .. comparison.Wear?.Remarks ?? []]);
    }

    /// <summary>One model.</summary>
    /// <param name="PumpModel">Its name.</param>
    /// <param name="Lives">Lives that could be used.</param>
    /// <param name="Failures">Those that ended with a failure.</param>
    /// <param name="MedianLifeH">By Kaplan-Meier, h.</param>
    /// <param name="B10H">By the Weibull distribution, h.</param>
    /// <param name="Weibull">The distribution.</param>
    /// <param name="Remarks">Why something is null.</param>
    public sealed record Model(
        string PumpModel, int Lives, int Failures, EstimateWithLimits MedianLifeH, EstimateWithLimits? B10H, WeibullSummary? Weibull, ImmutableArray<string> Remarks)
    {
        /// <summary>Oil per PTO hour at the fleet's mean load, L/h; limits null where pumps are too few.</summary>
        [JsonPropertyName("oil_l_per_h")]
        public EstimateWithLimits? OilLPerH { get; init; }

        /// <summary>Trucks that it comes from.</summary>
        public int OilPumps { get; init; }

        /// <summary>Wear per 1 000 PTO hours; 1 is the limit; limits null where pumps are too few.</summary>
        [JsonPropertyName("wear_per_1000h")]
        public EstimateWithLimits? WearPer1000H { get; init; }

        /// <summary>Pumps that it comes from.</summary>
        public int WearPumps { get; init; }

        /// <summary>Planned rebuilds and failures per PTO hour so far, in the cost unit.</summary>
        [JsonPropertyName("cost_per_h")]
        public double? CostPerH { get; init; }

        /// <summary>Its lower limit.</summary>
        [JsonPropertyName("cost_per_h_low")]
        public double? CostPerHLow { get; init; }

        /// <summary>Its upper limit.</summary>
        [JsonPropertyName("cost_per_h_high")]
        public double? CostPerHHigh { get; init; }

        /// <summary>The same if every pump were rebuilt at the age that costs least.</summary>
        [JsonPropertyName("cost_per_h_best")]
        public double? CostPerHBest { get; init; }

        internal static Model Of(ComparedModel m) => new(m.Life.PumpModel, m.Life.Lives, m.Life.Failures, m.Life.MedianLifeH, m.Life.B10H, m.Life.Weibull, m.Remarks)
        {
            OilLPerH = m.Oil.Value,
            OilPumps = m.Oil.Pumps,
            WearPer1000H = m.Wear?.Value,
            WearPumps = m.Wear?.Pumps ?? 0,
            CostPerH = m.Cost.PerHour?.Mid,
            CostPerHLow = m.Cost.PerHour?.Low,
            CostPerHHigh = m.Cost.PerHour?.High,
            CostPerHBest = m.Cost.BestPerHour,
        };
    }

    /// <summary>A log-rank test.</summary>
    /// <param name="ChiSquare">The statistic.</param>
    /// <param name="Df">Degrees of freedom.</param>
    /// <param name="P">0..1; null when nothing can be compared.</param>
    public sealed record Test(double ChiSquare, int Df, double? P);

    /// <summary>Two models; what stands here is of their lives.</summary>
    /// <param name="A">One, the earlier by name.</param>
    /// <param name="B">The other.</param>
    /// <param name="PAdjusted">0..1; null when nothing can be compared.</param>
    /// <param name="Verdict">What that says.</param>
    /// <param name="FailuresNeeded">Failures of both together that it takes to see a difference.</param>
    /// <param name="LivesNeeded">Lives that it takes to see so many.</param>
    /// <param name="Sentence">The verdict in plain words.</param>
    /// <param name="Oil">The same two by oil use.</param>
    /// <param name="Wear">The same two by wear; null where nothing was analysed yet.</param>
    public sealed record Pair(string A, string B, double? PAdjusted, PairVerdict Verdict, int? FailuresNeeded, int? LivesNeeded, string Sentence, ByMeasure Oil, ByMeasure? Wear)
    {
        internal static Pair Of(LifePair p, ModelComparison comparison) => new(
            p.A,
            p.B,
            p.PAdjusted,
            p.Verdict,
            p.FailuresNeeded,
            p.LivesNeeded,
            p.Sentence,
            ByMeasure.Of(comparison.Oil.Pairs.First(m => m.A == p.A && m.B == p.B)),
            comparison.Wear is { } wear ? ByMeasure.Of(wear.Pairs.First(m => m.A == p.A && m.B == p.B)) : null);
    }

    /// <summary>Two models by one measure.</summary>
    /// <param name="PAdjusted">0..1; null when nothing can be compared.</param>
    /// <param name="Verdict">What that says.</param>
    /// <param name="PumpsNeeded">Pumps of each that it takes to see a difference.</param>
    /// <param name="Sentence">The verdict in plain words.</param>
    public sealed record ByMeasure(double? PAdjusted, PairVerdict Verdict, int? PumpsNeeded, string Sentence)
    {
        internal static ByMeasure Of(MeasurePair p) => new(p.PAdjusted, p.Verdict, p.PumpsNeeded, p.Sentence);
    }
}
