using Vanehour.Store.Telemetry;

namespace Vanehour.Host.Moving;

/// <summary>One end of a copy, opened.</summary>
/// <param name="Identity">What names it apart from every other store: a path, or a server with its bucket.</param>
/// <param name="Samples">Its samples.</param>
/// <param name="ProgressFolder">The folder on this machine where a copy into it notes how far it has come.</param>
/// <param name="Owner">What closes it.</param>
internal sealed record StoreEnd(string Identity, ITelemetryStore Samples, string ProgressFolder, IDisposable Owner) : IDisposable
{
    /// <summary>Called when a copy into it is done, to tell others who use the same store; null where there are none.</summary>
    public Func<CancellationToken, Task>? Done { get; init; }

    /// <inheritdoc/>
    public void Dispose() => Owner.Dispose();
}
