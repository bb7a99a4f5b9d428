using Vanehour.Fleet.Runs;

namespace Vanehour.Models.Runs;

/// <summary>
/// The truck's recent start-up checks, against which a new one is too fast or not: the last <see cref="Recent"/> within <see cref="RecentDays"/> days, those since
/// the last service that can make a pump-down faster.
/// </summary>
internal sealed class CheckHistory
{
    /// <summary>How many of them count.</summary>
    public const int Recent = 9;

    /// <summary>How far back they count, days.</summary>
    public const int RecentDays = 60;

    // Faster than the median by more than this share: a partly full tank.
    private const double TooFastShare = 0.06;

    // With fewer there is no median to speak of.
    private const int FewestForMedian = 3;

    // So many in a row are no chance: the truck has changed.
    private const int InARow = 3;

    private readonly List<Entry> entries = [];

    public void Add(PumpDown pumpDown)
    {
        if (pumpDown.IsStartUpCheck || pumpDown.Refusal == CheckRefusal.TooFast)
        {
            entries.Add(new Entry(
                pumpDown.Start.ToUnixTimeMilliseconds(), pumpDown.NetFlowPerVolumePerS, pumpDown.ReferenceVacuumKPa, pumpDown.IsStartUpCheck));
        }
    }

    /// <summary>Whether a check stands out as too fast, with nothing to explain it.</summary>
    public bool IsTooFast(long startMs, double netFlowPerS, double referenceVacuumKPa, long? explainedSinceMs)
    {
        var oldestMs = Math.Max(startMs - (RecentDays * 86_400_000L), explainedSinceMs ?? long.MinValue);
        entries.RemoveAll(e => e.StartMs < startMs - (RecentDays * 86_400_000L));
        var recent = entries.Where(e => e.StartMs >= oldestMs && e.ReferenceVacuumKPa == referenceVacuumKPa).TakeLast(Recent).ToArray();
        var accepted = recent.Where(e => e.Accepted).Select(e => e.NetFlowPerS).Order().ToArray();
        if (accepted.Length < FewestForMedian)
        {
            return false;
        }

        var limit = (1 + TooFastShare) * (accepted[(accepted.Length - 1) / 2] + accepted[accepted.Length / 2]) / 2;
        return netFlowPerS > limit && recent.TakeLast(InARow - 1).Any(e => e.NetFlowPerS <= limit);
    }

    private readonly record struct Entry(long StartMs, double NetFlowPerS, double ReferenceVacuumKPa, bool Accepted);
}
