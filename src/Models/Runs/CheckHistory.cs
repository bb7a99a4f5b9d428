using Vanehour.Fleet.Runs;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Runs;

/// <summary>
/// The truck's start-up checks of the last <see cref="RecentDays"/> days. A new one is too fast or not against the last <see cref="Recent"/> of them, those since the last
/// change of the pump; and how far they differ from one another is what a check is worth.
/// </summary>
internal sealed class CheckHistory
{
    /// <summary>How many of them count.</summary>
    public const int Recent = 9;

    /// <summary>How far back they count, days.</summary>
    public const int RecentDays = 60;

    // Faster by more than this share: a partly full tank. Checks repeat to about 1 %, so one before is enough to tell.
    private const double TooFastShare = 0.06;

    // So many in a row are no chance: the truck has changed.
    private const int InARow = 3;

    // With so many since a service its level is known; before, the service may have given back what was lost, up to the best that so large a share of checks reached.
    private const int EnoughSinceService = 3;
    private const double BestShare = 0.9;

    // Shops write down days, not hours: a check so soon after a change of the pump may have been before it.
    private const long RecordedWithinMs = 86_400_000;

    // What checks are expected to differ by beside their fits' errors until there are enough to tell, and how many such differences that counts for. Of our own: 1 % of the
    // flow, and as much of the displaced flow for the leak ratio. A median of differences tells about half as much as so many independent checks.
    private const double ExpectedShare = 0.01;
    private const double ExpectedCount = 4;
    private const double WorthOfDifference = 0.5;

    private readonly List<Entry> entries = [];

    public void Add(PumpDown pumpDown)
    {
        if (pumpDown.IsStartUpCheck || pumpDown.Refusal == CheckRefusal.TooFast)
        {
            entries.Add(new Entry(
                pumpDown.Start.ToUnixTimeMilliseconds(),
                pumpDown.NetFlowPerVolumePerS,
                pumpDown.ReferenceVacuumKPa,
                pumpDown.LeakRatio,
                pumpDown.IsStartUpCheck));
        }
    }

    /// <summary>Whether a check stands out as too fast, with nothing to explain it.</summary>
    /// <param name="startMs">When it began, Unix ms.</param>
    /// <param name="netFlowPerS">Its net flow, 1/s.</param>
    /// <param name="referenceVacuumKPa">At which vacuum, kPa.</param>
    /// <param name="servicedMs">When somebody last did something that can give lost flow back, or null.</param>
    /// <param name="newPumpMs">From when on the pump is on the truck, or was made new, or null: nothing earlier can be compared.</param>
    public bool IsTooFast(long startMs, double netFlowPerS, double referenceVacuumKPa, long? servicedMs, long? newPumpMs)
    {
        entries.RemoveAll(e => e.StartMs < startMs - (RecentDays * 86_400_000L));
        var comparable = entries.Where(e => e.StartMs >= (newPumpMs + RecordedWithinMs ?? long.MinValue) && e.ReferenceVacuumKPa == referenceVacuumKPa).ToArray();
        var since = comparable.Where(e => e.StartMs >= (servicedMs ?? long.MinValue)).ToArray();
        var isKnown = since.Count(e => e.Accepted) >= EnoughSinceService;
        var recent = (isKnown ? since : comparable).TakeLast(Recent).ToArray();
        var accepted = recent.Where(e => e.Accepted).Select(e => e.NetFlowPerS).Order().ToArray();
        if (accepted.Length == 0)
        {
            return false;
        }

        // Of two the lower: the other may have been fast itself.
        var level = accepted.Length == 2 ? accepted[0] : Robust.Median(accepted);
        if (!isKnown && servicedMs is { } serviced && accepted.Length > 2 && comparable[0].StartMs < serviced)
        {
            var all = comparable.Where(e => e.Accepted).Select(e => e.NetFlowPerS).Order().ToArray();
            level = Math.Max(level, all[(int)(BestShare * (all.Length - 1))]);
        }

        var limit = (1 + TooFastShare) * level;
        return netFlowPerS > limit && recent.TakeLast(InARow - 1).Any(e => e.NetFlowPerS <= limit);
    }

    /// <summary>The standard error of a check's net flow, 1/s: its fit's, and how far the truck's checks differ.</summary>
    public double NetFlowSe(long startMs, double netFlowPerS, double fitSe, double referenceVacuumKPa) => netFlowPerS > 0
        ? netFlowPerS * Combined(
            fitSe / netFlowPerS,
            [.. Accepted(startMs).Where(e => e.ReferenceVacuumKPa == referenceVacuumKPa && e.NetFlowPerS > 0).Select(e => Math.Log(e.NetFlowPerS))])
        : fitSe;

    /// <summary>The standard error of a check's leak ratio.</summary>
    public double LeakRatioSe(long startMs, double fitSe) =>
        Combined(fitSe, [.. Accepted(startMs).Where(e => e.LeakRatio is not null).Select(e => e.LeakRatio!.Value)]);

    private IEnumerable<Entry> Accepted(long startMs) => entries.Where(e => e.Accepted && e.StartMs >= startMs - (RecentDays * 86_400_000L));

    /// <summary>From differences of neighbours, so that wear does not count, and from their median, so that a service or a bad check does not.</summary>
    private static double Combined(double fitSe, double[] values)
    {
        var expected = (fitSe * fitSe) + (ExpectedShare * ExpectedShare);
        if (values.Length < 2)
        {
            return Math.Sqrt(expected);
        }

        var differences = values.Skip(1).Zip(values, (later, earlier) => Math.Abs(later - earlier)).ToArray();
        var scale = Robust.MadToSd * Robust.Median(differences);
        var count = WorthOfDifference * differences.Length;
        var variance = ((ExpectedCount * expected) + (count * scale * scale / 2)) / (ExpectedCount + count);
        return Math.Sqrt(Math.Max(variance, fitSe * fitSe));
    }

    private readonly record struct Entry(long StartMs, double NetFlowPerS, double ReferenceVacuumKPa, double? LeakRatio, bool Accepted);
}
