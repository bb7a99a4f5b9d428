namespace Vanehour.Models.Survival;

/// <summary>A survival curve at one age at which units failed; it holds from there up to the next.</summary>
/// <param name="Age">The age.</param>
/// <param name="AtRisk">Units under observation just before it.</param>
/// <param name="Failures">Units that failed at it.</param>
/// <param name="Survival">Share that lasts longer, 0..1.</param>
/// <param name="SurvivalSe">Standard error of <paramref name="Survival"/> (Greenwood 1926); null once the curve is at 0.</param>
/// <param name="Low">Lower limit of the share on the complementary log-log scale; null once the curve is at 0.</param>
/// <param name="High">Upper limit.</param>
/// <param name="CumulativeHazard">Nelson-Aalen estimate.</param>
/// <param name="CumulativeHazardSe">Its standard error.</param>
public sealed record SurvivalStep(
    double Age,
    int AtRisk,
    int Failures,
    double Survival,
    double? SurvivalSe,
    double? Low,
    double? High,
    double CumulativeHazard,
    double CumulativeHazardSe);
