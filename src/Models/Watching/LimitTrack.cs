using Vanehour.Fleet;
using Vanehour.Models.Findings;
using Vanehour.Models.Runs;

namespace Vanehour.Models.Watching;

/// <summary>Follows one signal of one truck against one limit.</summary>
/// <param name="kind">The finding that passing it is.</param>
/// <param name="signal">The signal.</param>
/// <param name="unit">Its canonical unit's symbol.</param>
/// <param name="limit">The pump model's limit.</param>
/// <param name="from">It counts as passed above this.</param>
/// <param name="until">And until the value is below this.</param>
/// <param name="holdS">How long it may be passed, s.</param>
internal sealed class LimitTrack(FindingKind kind, Signal signal, string unit, double limit, double from, double until, double holdS)
{
    private long sinceMs;
    private long lastAboveMs;
    private long lastHeardMs;
    private double peak;
    private bool isAbove;

    /// <summary>Takes a sample; what is over by it comes back, where it was longer than allowed.</summary>
    public LimitSighting? Take(in Sample sample, bool isStopped)
    {
        var value = sample.Values.Raw(signal);
        var isSilent = isAbove && sample.UnixMs - lastHeardMs > HeldValues.HoldMs(signal);
        var over = isAbove && (isStopped || isSilent || value < until) ? End() : null;
        if (isStopped || double.IsNaN(value))
        {
            return over;
        }

        lastHeardMs = sample.UnixMs;
        if (!(value > from))
        {
            return over;
        }

        if (!isAbove)
        {
            (isAbove, sinceMs, peak) = (true, sample.UnixMs, value);
        }

        lastAboveMs = sample.UnixMs;
        peak = Math.Max(peak, value);
        return over;
    }

    /// <summary>What goes on longer than allowed.</summary>
    public LimitSighting? Now() => isAbove ? Sighting(isOver: false) : null;

    private LimitSighting? End()
    {
        isAbove = false;
        return Sighting(isOver: true);
    }

    private LimitSighting? Sighting(bool isOver) => lastAboveMs - sinceMs > holdS * 1000
        ? new LimitSighting(
            kind,
            new WatchedLimit(DateTimeOffset.FromUnixTimeMilliseconds(sinceMs), DateTimeOffset.FromUnixTimeMilliseconds(lastAboveMs), peak, limit, unit, holdS),
            isOver)
        : null;
}
