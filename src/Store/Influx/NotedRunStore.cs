using Vanehour.Fleet.Runs;
using Vanehour.Store.Runs;

namespace Vanehour.Store.Influx;

/// <summary>A run store that notes what is replaced in it, so that the copies for dashboards can follow.</summary>
/// <param name="inner">The store.</param>
/// <param name="copies">Where it is noted.</param>
public sealed class NotedRunStore(IRunStore inner, InfluxCopies copies) : IRunStore
{
    /// <inheritdoc/>
    public IReadOnlyList<Run> Read(string truck, DateTimeOffset? from = null, DateTimeOffset? to = null) => inner.Read(truck, from, to);

    /// <inheritdoc/>
    public DateTimeOffset? SettledAt(string truck) => inner.SettledAt(truck);

    /// <inheritdoc/>
    public string? BasisOf(string truck) => inner.BasisOf(truck);

    /// <inheritdoc/>
    public void NoteBasis(string truck, string basis) => inner.NoteBasis(truck, basis);

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">A database cannot be changed now; nothing was replaced.</exception>
    public void Replace(string truck, DateTimeOffset from, IReadOnlyList<Run> runs, DateTimeOffset? settledAt)
    {
        // Noted first: copying once too often does no harm.
        copies.Note(truck, from);
        inner.Replace(truck, from, runs, settledAt);
    }
}
