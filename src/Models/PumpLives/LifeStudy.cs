using System.Collections.Immutable;
using Vanehour.Models.Survival;

namespace Vanehour.Models.PumpLives;

/// <summary>Fits life models to the lives of each pump model.</summary>
/// <param name="options">How.</param>
public sealed class LifeStudy(LifeOptions options)
{
    /// <summary>One summary for each pump model that has a life, in order of name.</summary>
    public ImmutableArray<ModelLife> Of(LifeTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        var names = table.Lives.Select(l => l.PumpModel).Concat(table.Problems.Select(p => p.PumpModel).OfType<string>()).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal);
        return [.. names.Select(name => Of(name, [.. table.Lives.Where(l => l.PumpModel == name)], table.Problems.Count(p => p.PumpModel == name)))];
    }

    private static string? Refusal(WeibullStatus status) => status switch
    {
        WeibullStatus.Fitted => null,
        WeibullStatus.AllFailuresAtOnce => "All pumps failed at the same hours and none lasted longer, so no distribution can be fitted.",
        WeibullStatus.NotIdentified => "The lives do not hold enough to fit a distribution, as when records begin late in all of them.",
        _ => "Nothing has failed yet, so no distribution can be fitted.",
    };

    private ModelLife Of(string name, IReadOnlyList<PumpLife> lives, int leftOut)
    {
        IReadOnlyList<Lifetime> times = [.. lives.Select(l => l.Lifetime)];
        var curve = KaplanMeier.Estimate(times, options.Level);
        var remarks = ImmutableArray.CreateBuilder<string>();
        var fit = curve.Failures >= options.FewestFailures ? WeibullFit.Fit(times) : null;
        if (fit is null)
        {
            remarks.Add(curve.Failures switch
            {
                0 => "Nothing has failed yet, so no distribution is fitted.",
                1 => $"One failure is too few for a distribution; it takes {options.FewestFailures}.",
                _ => $"{curve.Failures} failures are too few for a distribution; it takes {options.FewestFailures}.",
            });
        }
        else if (Refusal(fit.Status) is { } refusal)
        {
            fit = null;
            remarks.Add(refusal);
        }

        if (lives.Count(l => l.EndedByMeasurement) is > 0 and var measured)
        {
            remarks.Add($"{measured} of the planned rebuilds followed a measured vane width: those pumps were nearer their failure than the others, so lives look longer here than they are.");
        }

        if (curve.Failures > 0 && curve.Steps.FirstOrDefault(s => s.Survival <= 0) is { AtRisk: < 3 } spent && lives.Any(l => l.ExitH > spent.Age))
        {
            remarks.Add($"The survival curve ends early, at {spent.Age:F0} h, where {spent.AtRisk} under observation failed while records of others begin later; the median says little.");
        }

        return new ModelLife
        {
            PumpModel = name,
            Lives = lives.Count,
            Failures = curve.Failures,
            PlannedRebuilds = lives.Count(l => l.Ending == LifeEnding.Rebuilt),
            Removed = lives.Count(l => l.Ending == LifeEnding.Removed),
            Running = lives.Count(l => l.Ending == LifeEnding.Running),
            LateEntries = lives.Count(l => l.EntryH > 0),
            LeftOut = leftOut,
            MedianLifeH = curve.Quantile(0.5),
            B10H = fit?.QuantileInterval(0.1, options.Level),
            Weibull = fit is null ? null : new WeibullSummary(fit.Shape, fit.ShapeSe, fit.Scale, fit.ScaleSe),
            Shape = fit?.ShapeInterval(options.Level),
            Replacement = fit is null ? null : Replacement(AgeReplacement.Best(fit.Shape, fit.Scale, 1, options.FailureCostRatio)),
            Remarks = remarks.ToImmutable(),
        };
    }

    private ReplacementSummary Replacement(AgeReplacement best) => new(options.FailureCostRatio, best.Age, best.Saving, best.FailureShare, best.CostRate);
}
