using System.Collections.Concurrent;
using Vanehour.Store.Rejects;

namespace Vanehour.Ingest.Tests.Memory;

/// <summary>Keeps rejects in memory, each as it came.</summary>
public sealed class InMemoryRejectLog : IRejectLog
{
    public ConcurrentQueue<Reject> Kept { get; } = new();

    public Task AddAsync(IReadOnlyList<Reject> rejects, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(rejects);
        foreach (var reject in rejects)
        {
            Kept.Enqueue(reject);
        }

        return Task.CompletedTask;
    }

    public Task<IReadOnlyList<StoredReject>> ReadAsync(int limit, CancellationToken cancellationToken) => throw new NotSupportedException();

    public Task<IReadOnlyDictionary<RejectReason, long>> CountAsync(CancellationToken cancellationToken) => throw new NotSupportedException();
}
