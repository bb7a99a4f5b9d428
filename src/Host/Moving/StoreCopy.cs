using Vanehour.Fleet;
using Vanehour.Store.Telemetry;

namespace Vanehour.Host.Moving;

/// <summary>
/// Copies samples from one store to another, truck by truck in order of time, and reads both back to compare them. The period is the one
/// the source holds at the start, so that a target which already takes in the feed may hold later samples.
/// </summary>
public sealed class StoreCopy
{
    /// <summary>Samples written at a time, and so the most that a killed copy repeats.</summary>
    public const int BatchSamples = 20_000;

    private readonly ITelemetryStore from;
    private readonly ITelemetryStore to;
    private readonly CopyProgressFile progress;

    /// <param name="from">The source; it is only read.</param>
    /// <param name="to">The target.</param>
    /// <param name="progress">Where to note how far it has come.</param>
    public StoreCopy(ITelemetryStore from, ITelemetryStore to, CopyProgressFile progress)
    {
        ArgumentNullException.ThrowIfNull(from);
        ArgumentNullException.ThrowIfNull(to);
        ArgumentNullException.ThrowIfNull(progress);
        this.from = from;
        this.to = to;
        this.progress = progress;
    }

    /// <summary>The trucks that the source holds samples of.</summary>
    public async Task<IReadOnlyList<TruckExtent>> TrucksAsync(CancellationToken cancellationToken) =>
        [.. (await from.TrucksAsync(cancellationToken)).Where(t => t.Samples > 0)];

    /// <summary>Copies what is not copied yet.</summary>
    /// <returns>How many samples were written this time.</returns>
    public async Task<long> CopyAsync(IReadOnlyList<TruckExtent> trucks, IProgress<double> share, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(trucks);
        ArgumentNullException.ThrowIfNull(share);
        long written = 0;
        var weights = new ShareOfTrucks(trucks, share);
        foreach (var truck in trucks)
        {
            written += await CopyAsync(truck, weights, cancellationToken);
            weights.Done(truck);
        }

        return written;
    }

    /// <summary>Reads both ends and compares them. A truck that differs is forgotten, so that the next copy starts it over.</summary>
    public async Task<IReadOnlyList<CopiedTruck>> VerifyAsync(
        IReadOnlyList<TruckExtent> trucks, IProgress<double> share, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(trucks);
        ArgumentNullException.ThrowIfNull(share);
        var result = new List<CopiedTruck>();
        var weights = new ShareOfTrucks(trucks, share);
        foreach (var truck in trucks)
        {
            var ends = await Task.WhenAll(
                Task.Run(() => DigestAsync(from, truck, weights, cancellationToken), cancellationToken),
                Task.Run(() => DigestAsync(to, truck, null, cancellationToken), cancellationToken));
            var copied = new CopiedTruck(truck.Truck, ends[0].Samples, ends[1].Samples, ends[0].Checksum, ends[1].Checksum);
            if (!copied.Same)
            {
                progress.Forget(truck.Truck);
            }

            result.Add(copied);
            weights.Done(truck);
        }

        return result;
    }

    private static async Task<(long Samples, string Checksum)> DigestAsync(
        ITelemetryStore store, TruckExtent truck, ShareOfTrucks? share, CancellationToken cancellationToken)
    {
        using var digest = new SampleDigest();
        await foreach (var sample in store.ReadAsync(truck.Truck, truck.FirstMs, truck.LastMs + 1, cancellationToken))
        {
            digest.Add(sample);
            if (digest.Samples % BatchSamples == 0)
            {
                share?.Report(truck, digest.Samples);
            }
        }

        return (digest.Samples, digest.Close());
    }

    private async Task<long> CopyAsync(TruckExtent truck, ShareOfTrucks share, CancellationToken cancellationToken)
    {
        var end = truck.LastMs + 1;
        var start = Math.Max(truck.FirstMs, progress.NextMs(truck.Truck) ?? truck.FirstMs);
        long written = 0;
        var batch = new List<Sample>(BatchSamples);
        await foreach (var sample in from.ReadAsync(truck.Truck, start, end, cancellationToken))
        {
            batch.Add(sample);
            if (batch.Count == BatchSamples)
            {
                await FlushAsync(batch[^1].UnixMs + 1);
            }
        }

        if (start < end)
        {
            await FlushAsync(end);
        }

        return written;

        async Task FlushAsync(long nextMs)
        {
            if (batch.Count > 0)
            {
                await to.WriteAsync(batch, cancellationToken);
                written += batch.Count;
                batch.Clear();
                share.Report(truck, written);
            }

            progress.Save(truck.Truck, nextMs);
        }
    }
}
