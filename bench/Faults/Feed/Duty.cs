namespace Vanehour.Bench.Faults.Feed;

/// <summary>Who has said what about a message.</summary>
[Flags]
internal enum Duty
{
    None = 0,

    /// <summary>It was sent to the broker at least once.</summary>
    Sent = 1,

    /// <summary>The broker acknowledged it to the publisher: from here on it answers for it.</summary>
    BrokerTook = 2,

    /// <summary>The worker acknowledged it to the broker, as seen on the wire: from here on the worker answers for it.</summary>
    WorkerTook = 4,
}
