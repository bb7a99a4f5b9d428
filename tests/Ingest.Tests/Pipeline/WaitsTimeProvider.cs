using System.Collections.Concurrent;
using Microsoft.Extensions.Time.Testing;

namespace Vanehour.Ingest.Tests.Pipeline;

/// <summary>A clock that moves only when told, and knows every wait that was begun on it.</summary>
internal sealed class WaitsTimeProvider : FakeTimeProvider
{
    /// <summary>The waits, in the order of their beginning.</summary>
    public ConcurrentQueue<TimeSpan> Waits { get; } = new();

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
    {
        var timer = base.CreateTimer(callback, state, dueTime, period);
        Waits.Enqueue(dueTime);
        return timer;
    }
}
