using Vanehour.Fleet;
using Vanehour.Fleet.Runs;

namespace Vanehour.Models.Runs;

/// <summary>
/// Turns one truck's samples, pushed in order of time, into runs. It holds the samples of one run at most, and of the ten minutes before.
/// </summary>
/// <remarks>
/// What it gives is a pure function of the samples, the register and the runs before: started after a settled run with those runs and the two hours of
/// samples before it, it gives exactly the runs that it would have given from the beginning.
/// A run whose end was not heard ends at the last sample heard with the power take-off engaged. One that lasts a day is cut there.
/// </remarks>
public sealed class RunDeriver
{
    private readonly RunContext context;
    private readonly RunBuilder builder;
    private readonly EngagementSense sense;

    // While idle: the last ten minutes where the power take-off is only inferred. While running: the run so far.
    private readonly List<Sample> buffer = [];
    private HeldValues held = HeldValues.Nothing;
    private HeldValues heldAtStart;
    private long firstHeardMs = long.MaxValue;
    private long lastHeardMs = long.MinValue;
    private long startMs;
    private long lastOnMs;
    private bool running;
    private bool inferred;
    private bool byMeter;

    /// <summary>Creates a deriver.</summary>
    /// <param name="context">What the register knows of the truck.</param>
    /// <param name="before">The runs before the samples to come, in order of time: the last one, and with it those of the last 60 days, from which recent start-up checks are read.</param>
    public RunDeriver(RunContext context, IReadOnlyList<Run> before)
    {
        ArgumentNullException.ThrowIfNull(context);
        ArgumentNullException.ThrowIfNull(before);
        this.context = context;
        sense = new EngagementSense(context);
        builder = new RunBuilder(context, before);
    }

    /// <summary>How many samples were pushed.</summary>
    public long Samples { get; private set; }

    /// <summary>Takes a sample at or before the end of the last run before: it is remembered and starts nothing.</summary>
    public void Remember(in Sample sample)
    {
        held.Take(sample);
        sense.Hear(sample);
    }

    /// <summary>Takes the next sample, and adds the runs that it ended to <paramref name="into"/>.</summary>
    /// <exception cref="ArgumentException">A sample of another truck, or one that is not later than the one before.</exception>
    public void Push(in Sample sample, ICollection<Run> into)
    {
        ArgumentNullException.ThrowIfNull(into);
        if (sample.UnixMs <= lastHeardMs)
        {
            throw new ArgumentException("Samples must come in order of time.", nameof(sample));
        }

        if (!ReferenceEquals(sample.Truck, context.Truck.Id) && !string.Equals(sample.Truck, context.Truck.Id, StringComparison.Ordinal))
        {
            throw new ArgumentException("The sample is of another truck.", nameof(sample));
        }

        Samples++;
        firstHeardMs = Math.Min(firstHeardMs, sample.UnixMs);
        if (running && sample.UnixMs - lastHeardMs > RunRules.LongestSilenceMs)
        {
            Close(lastOnMs, endHeard: false, into);
        }

        var engagement = sense.Hear(sample);
        if (running)
        {
            GoOn(sample, engagement, into);
        }
        else
        {
            Idle(sample, engagement);
        }

        held.Take(sample);
        lastHeardMs = sample.UnixMs;
    }

    /// <summary>Says that no more samples are known, and adds the run in progress, as far as it was heard.</summary>
    public void Finish(ICollection<Run> into)
    {
        ArgumentNullException.ThrowIfNull(into);
        if (running)
        {
            Close(lastOnMs, endHeard: false, into);
        }
    }

    private void Idle(in Sample sample, Engagement engagement)
    {
        switch (engagement)
        {
            case Engagement.Off:
                buffer.Clear();
                break;
            case Engagement.Unknown:
                // Only a meter's advance reaches back, and only to its reading before.
                if (buffer.Count > 0 && sample.UnixMs - buffer[0].UnixMs > 2 * RunRules.EngagementHoldMs)
                {
                    DropUpTo(sample.UnixMs - RunRules.EngagementHoldMs);
                }

                buffer.Add(sample);
                break;
            case Engagement.OnByMeter:
                var since = Math.Max(sense.PreviousMeterMs, builder.PreviousEndMs);
                DropUpTo(since);
                Open(sample, since, engagement);
                break;
            default:
                buffer.Clear();
                Open(sample, sample.UnixMs, engagement);
                break;
        }
    }

    private void Open(in Sample sample, long fromMs, Engagement engagement)
    {
        startMs = fromMs;
        heldAtStart = held;
        running = true;
        inferred = engagement != Engagement.On;
        byMeter = engagement == Engagement.OnByMeter;
        lastOnMs = sample.UnixMs;
        buffer.Add(sample);
    }

    private void GoOn(in Sample sample, Engagement engagement, ICollection<Run> into)
    {
        var at = sample.UnixMs;
        switch (engagement)
        {
            case Engagement.Off:
                // A power take-off that went off in a silence did so at a time nobody heard: the fine meter may know, else the last sample heard counts.
                var end = at - lastOnMs <= RunRules.SilenceMs || MeterRanUpTo(sample) ? at : lastOnMs;
                if (end == at)
                {
                    buffer.Add(sample);
                }

                Close(end, endHeard: end == at || byMeter, into);
                buffer.Clear();
                break;
            case Engagement.Unknown when at - lastOnMs > RunRules.EngagementHoldMs:
                Close(lastOnMs, endHeard: byMeter, into);
                Idle(sample, Engagement.Unknown);
                break;
            case Engagement.Unknown:
                buffer.Add(sample);
                break;
            default:
                buffer.Add(sample);
                lastOnMs = at;
                inferred |= engagement != Engagement.On;
                byMeter = engagement == Engagement.OnByMeter;
                if (at - startMs >= RunRules.LongestRunMs)
                {
                    Close(at, endHeard: true, into);
                    Open(sample, at, engagement);
                }

                break;
        }
    }

    private bool MeterRanUpTo(in Sample sample)
    {
        var now = sample.Values.Raw(Signal.PtoHours);
        var before = held.At(Signal.PtoHours, sample.UnixMs);
        var elapsedH = (sample.UnixMs - held.TimeOf(Signal.PtoHours)) / 3_600_000.0;
        return held.TimeOf(Signal.PtoHours) >= startMs
            && !IsCoarse(now)
            && Math.Abs(now - before - elapsedH) <= RunRules.FineMeterH + RunRules.MeterSlackH;
    }

    private static bool IsCoarse(double meterH) => !(Math.Abs((meterH * 10) - Math.Round(meterH * 10)) > 1e-6);

    /// <summary>Ends the run; what was heard after its end is idle time again.</summary>
    private void Close(long endMs, bool endHeard, ICollection<Run> into)
    {
        var end = buffer.Count;
        while (end > 0 && buffer[end - 1].UnixMs > endMs)
        {
            end--;
        }

        builder.Build(buffer, end, startMs, endMs, heldAtStart, firstHeardMs, inferred, endHeard, into);
        buffer.RemoveRange(0, end);
        running = false;
    }

    private void DropUpTo(long ms)
    {
        var drop = 0;
        while (drop < buffer.Count && buffer[drop].UnixMs <= ms)
        {
            drop++;
        }

        buffer.RemoveRange(0, drop);
    }
}
