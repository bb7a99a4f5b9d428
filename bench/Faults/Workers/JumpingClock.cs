namespace Vanehour.Bench.Faults.Workers;

/// <summary>A machine whose wall clock is set while programs run: the time of day jumps, timers and time stamps go on as before.</summary>
internal sealed class JumpingClock : TimeProvider
{
    private long offsetTicks;

    /// <summary>How far the wall clock is ahead of the true time.</summary>
    public TimeSpan Offset
    {
        get => TimeSpan.FromTicks(Interlocked.Read(ref offsetTicks));
        set => Interlocked.Exchange(ref offsetTicks, value.Ticks);
    }

    /// <inheritdoc/>
    public override DateTimeOffset GetUtcNow() => System.GetUtcNow() + Offset;
}
