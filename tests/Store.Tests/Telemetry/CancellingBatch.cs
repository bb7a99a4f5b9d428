using System.Collections;
using Vanehour.Fleet;

namespace Vanehour.Store.Tests.Telemetry;

/// <summary>A batch that cancels while the store is at work on it: when its samples have been looked at a given number of times.</summary>
internal sealed class CancellingBatch(IReadOnlyList<Sample> samples, int afterReads) : IReadOnlyList<Sample>, IDisposable
{
    private readonly CancellationTokenSource source = new();
    private int reads;

    public CancellationToken Token => source.Token;

    public int Count => samples.Count;

    public Sample this[int index]
    {
        get
        {
            if (++reads == afterReads)
            {
                source.Cancel();
            }

            return samples[index];
        }
    }

    public IEnumerator<Sample> GetEnumerator()
    {
        for (var i = 0; i < Count; i++)
        {
            yield return this[i];
        }
    }

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();

    public void Dispose() => source.Dispose();
}
