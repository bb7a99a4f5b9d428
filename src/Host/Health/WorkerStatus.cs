namespace Vanehour.Host.Health;

/// <summary>How a worker was doing when it last said so.</summary>
/// <param name="WrittenAt">When it said so.</param>
/// <param name="ProcessId">Its process.</param>
/// <param name="Running">Whether it is at work; false once it has stopped in good order.</param>
/// <param name="Connected">Whether the broker is connected.</param>
/// <param name="BrokerProblem">Why not, or null.</param>
/// <param name="StoreProblem">Why the store cannot be written, or null.</param>
/// <param name="LastTick">When its pipeline last showed life.</param>
/// <param name="LastFlush">When a batch was last made durable.</param>
/// <param name="WaitingSince">Since when messages wait with none acknowledged; null when none waits.</param>
/// <param name="Backlog">Messages received and not acknowledged.</param>
/// <param name="SamplesStored">Samples stored since it started.</param>
internal sealed record WorkerStatus(
    DateTimeOffset WrittenAt,
    int ProcessId,
    bool Running,
    bool Connected,
    string? BrokerProblem,
    string? StoreProblem,
    DateTimeOffset? LastTick,
    DateTimeOffset? LastFlush,
    DateTimeOffset? WaitingSince,
    long Backlog,
    long SamplesStored)
{
    /// <summary>How often it is written.</summary>
    public static readonly TimeSpan Every = TimeSpan.FromSeconds(5);

    /// <summary>How old a status may be before the worker counts as dead.</summary>
    public static readonly TimeSpan Stale = TimeSpan.FromSeconds(30);

    /// <summary>How long messages may wait, or the pipeline be silent.</summary>
    public static readonly TimeSpan LongestWait = TimeSpan.FromMinutes(1);

    /// <summary>Whether the worker is at work.</summary>
    public bool IsLive(DateTimeOffset now) => NotLive(now) is null;

    /// <summary>Why the worker does not count as live, or null.</summary>
    public string? NotLive(DateTimeOffset now) =>
        !Running ? "the worker has stopped"
        : (now - WrittenAt).Duration() > Stale ? $"the worker (process {ProcessId}) has not reported since {WrittenAt:yyyy-MM-dd'T'HH:mm:ss'Z'}"
        : LastTick is { } tick && WrittenAt - tick > LongestWait ? $"the worker's pipeline stands still since {tick:yyyy-MM-dd'T'HH:mm:ss'Z'}"
        : null;

    /// <summary>Why the worker cannot do its job now, or null.</summary>
    public string? NotReady(DateTimeOffset now) =>
        NotLive(now)
        ?? (!Connected ? BrokerProblem ?? "the broker is not connected"
        : StoreProblem
        ?? (WaitingSince is { } since && WrittenAt - since > LongestWait ? $"messages wait since {since:yyyy-MM-dd'T'HH:mm:ss'Z'}" : null));
}
