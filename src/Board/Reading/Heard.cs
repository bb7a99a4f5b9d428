namespace Vanehour.Board.Reading;

/// <summary>When trucks were last heard, read at most every few seconds.</summary>
/// <param name="fleet">The fleet.</param>
public sealed class Heard(BoardFleet fleet) : IDisposable
{
    private static readonly TimeSpan GoodFor = TimeSpan.FromSeconds(3);

    private readonly SemaphoreSlim gate = new(1, 1);
    private IReadOnlyList<HeardTruck>? kept;
    private DateTimeOffset keptAt;

    /// <summary>Every truck that was ever heard, in order of id. Where the store cannot be read now it is what was last known, and <see cref="Problem"/> says why.</summary>
    public async Task<IReadOnlyList<HeardTruck>> TrucksAsync(CancellationToken cancellationToken)
    {
        await gate.WaitAsync(cancellationToken);
        try
        {
            var now = fleet.Time.GetUtcNow();
            if (kept is null || now - keptAt >= GoodFor)
            {
                var read = await fleet.Samples().TrucksAsync(cancellationToken);
                kept = [.. read.Select(t => new HeardTruck(t.Truck, t.Samples, DateTimeOffset.FromUnixTimeMilliseconds(t.FirstMs), DateTimeOffset.FromUnixTimeMilliseconds(t.LastMs)))];
                keptAt = now;
                Problem = null;
            }
        }
        catch (Exception e) when (e is not OperationCanceledException)
        {
            // The pages can show all the rest without the store of samples, and what was last known of it.
            Problem = e.Message;
            kept ??= [];
            keptAt = fleet.Time.GetUtcNow();
        }
        finally
        {
            gate.Release();
        }

        return kept;
    }

    /// <summary>Why the samples cannot be read now; null while they can.</summary>
    public string? Problem { get; private set; }

    /// <inheritdoc/>
    public void Dispose() => gate.Dispose();
}
