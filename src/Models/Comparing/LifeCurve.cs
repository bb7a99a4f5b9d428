using System.Collections.Immutable;
using Vanehour.Models.PumpLives;
using Vanehour.Models.Survival;

namespace Vanehour.Models.Comparing;

/// <summary>The survival of the pumps of a model, to be drawn.</summary>
/// <param name="PumpModel">The model.</param>
/// <param name="Curve">Kaplan-Meier.</param>
/// <param name="Lifetimes">What it was made of, h.</param>
/// <param name="Weibull">The distribution fitted to them; null without one.</param>
public sealed record LifeCurve(string PumpModel, SurvivalCurve Curve, ImmutableArray<Lifetime> Lifetimes, WeibullSummary? Weibull)
{
    /// <summary>The longest hours of any life, h; 0 without a life.</summary>
    public double LongestH => Lifetimes.Select(l => l.Exit).DefaultIfEmpty(0).Max();

    /// <summary>Lives under observation that have lasted longer than some hours.</summary>
    public int AtRisk(double hours) => Lifetimes.Count(l => l.Entry <= hours && l.Exit > hours);

    /// <summary>The share that lasts longer than some hours by the Kaplan-Meier curve, 0..1.</summary>
    public double SurvivalAt(double hours) => Curve.Steps.LastOrDefault(s => s.Age <= hours)?.Survival ?? 1;
}
