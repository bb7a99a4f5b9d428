using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Findings;

/// <summary>A leak or a blockage: flow kept fell at one stroke and has not come back.</summary>
/// <param name="options">From where on.</param>
public sealed class FlowStepRule(FindingOptions options) : IFindingRule
{
    // What is left of a fall below this share of what opens the finding counts as mended: a repaired gasket never gives back the last per cent.
    private const double MendedShare = 0.5;

    /// <inheritdoc/>
    public IEnumerable<FindingDraft> Look(PumpState state)
    {
        ArgumentNullException.ThrowIfNull(state);
        var from = state.DealtWith.GetValueOrDefault(FindingKind.LeakOrBlockage, DateTimeOffset.MinValue);
        var standing = 0.0;
        FlowStep? first = null;
        FlowStep? worst = null;
        foreach (var step in state.Wear.Steps.Where(s => s.At >= from))
        {
            standing += step.Change;
            if (standing > -MendedShare * options.FadingDrop)
            {
                // Mended, or better than before: a rise makes no credit for a later fall.
                (standing, first, worst) = (0, null, null);
            }
            else if (step.Change < 0)
            {
                first ??= step;
                worst = worst is null || step.Change < worst.Change ? step : worst;
            }
        }

        if (first is null || worst is null || -standing < options.FadingDrop)
        {
            yield break;
        }

        yield return new FindingDraft(FindingKind.LeakOrBlockage, first.At, false,
        [
            new Evidence("flow kept, fall at one stroke that stands", standing, "1", -options.FadingDrop, null),
            .. Ultimate(state, first) is { } ultimate ? [ultimate] : Array.Empty<Evidence>(),
        ])
        {
            // High: more leaks back. Low: less flows.
            Side = worst.Nature switch
            {
                FlowStepNature.Leak => FindingSide.High,
                FlowStepNature.Flow => FindingSide.Low,
                _ => FindingSide.Either,
            },
        };
    }

    // A leak takes from the vacuum that could be reached in the end; a blockage hardly does.
    private static Evidence? Ultimate(PumpState state, FlowStep step)
    {
        const int each = 10;
        var downs = state.Pump.Runs.Select(r => r.FirstPumpDown).Where(d => d is { IsStartUpCheck: true, LeakPerVolumePerS: not null }).ToList();
        var before = downs.Where(d => d!.Start < step.At).TakeLast(each).Select(d => d!.UltimateKPa).ToList();
        var since = downs.Where(d => d!.Start >= step.At).TakeLast(each).Select(d => d!.UltimateKPa).ToList();
        if (before.Count < 3 || since.Count < 3)
        {
            return null;
        }

        var usual = Regression.Robust.Median(before);
        var spread = Math.Max(Regression.Robust.Spread(before), 0.3);
        return new Evidence("vacuum that the fits approach, recent checks", Regression.Robust.Median(since), "kPa", usual - (2 * spread), usual + (2 * spread));
    }
}
