namespace Vanehour.Store.Rejects;

/// <summary>Keeps what was refused, so that nothing bad vanishes silently. The same reject (topic, reason, detail, payload) is kept once and counted.</summary>
public interface IRejectLog
{
    /// <summary>Keeps rejects; when the task completes they are durable.</summary>
    Task AddAsync(IReadOnlyList<Reject> rejects, CancellationToken cancellationToken);

    /// <summary>The kept rejects, latest arrival first.</summary>
    /// <param name="limit">At most so many.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    Task<IReadOnlyList<StoredReject>> ReadAsync(int limit, CancellationToken cancellationToken);

    /// <summary>How often each reason was met, counting repeats.</summary>
    Task<IReadOnlyDictionary<RejectReason, long>> CountAsync(CancellationToken cancellationToken);
}
