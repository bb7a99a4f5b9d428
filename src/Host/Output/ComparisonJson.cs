using System.Collections.Immutable;
using System.Text.Json.Serialization;
using Vanehour.Models;
using Vanehour.Models.PumpLives;
using Vanehour.Models.Survival;

namespace Vanehour.Host.Output;

/// <summary>A comparison of pump models as 'compare --json' gives it.</summary>
/// <param name="Models">Each model.</param>
/// <param name="LogRank">The test of all of them at once; null with fewer than two.</param>
/// <param name="Pairs">Each pair.</param>
public sealed record ComparisonJson(ImmutableArray<ComparisonJson.Model> Models, ComparisonJson.Test? LogRank, ImmutableArray<LifePair> Pairs)
{
    /// <summary>From what was compared.</summary>
    public static ComparisonJson Of(LifeComparison comparison)
    {
        ArgumentNullException.ThrowIfNull(comparison);
        return new ComparisonJson(
            [.. comparison.Models.Select(m => new Model(m.PumpModel, m.Lives, m.Failures, m.MedianLifeH, m.B10H, m.Weibull, m.Remarks))],
            comparison.LogRank is { } test ? new Test(test.ChiSquare, test.DegreesOfFreedom, test.P) : null,
            comparison.Pairs);
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
        /// <summary>Not compared yet: null.</summary>
        [JsonPropertyName("oil_l_per_h")]
        public LowMidHigh? OilLPerH { get; init; }

        /// <summary>Not compared yet: null.</summary>
        [JsonPropertyName("wear_per_1000h")]
        public LowMidHigh? WearPer1000H { get; init; }

        /// <summary>Not compared yet: null.</summary>
        [JsonPropertyName("cost_per_h")]
        public double? CostPerH { get; init; }
    }

    /// <summary>A log-rank test.</summary>
    /// <param name="ChiSquare">The statistic.</param>
    /// <param name="Df">Degrees of freedom.</param>
    /// <param name="P">0..1; null when nothing can be compared.</param>
    public sealed record Test(double ChiSquare, int Df, double? P);
}
