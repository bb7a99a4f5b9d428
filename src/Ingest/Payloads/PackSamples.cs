using System.Runtime.InteropServices;
using Vanehour.Fleet;

namespace Vanehour.Ingest.Payloads;

/// <summary>The samples of one payload in the making: records of one instant come together in one sample, the later record winning.</summary>
/// <param name="samples">All samples of the batch; this payload's are at the end.</param>
/// <param name="slots">Where each instant of this payload is in the list; empty to begin with.</param>
/// <param name="truck">The truck.</param>
internal struct PackSamples(List<Sample> samples, Dictionary<long, int> slots, string truck)
{
    // Most packs tell one instant after the other.
    private long lastMs = long.MinValue;
    private int lastSlot = -1;

    public readonly string Truck => truck;

    public void Set(long unixMs, Signal signal, double value)
    {
        if (unixMs != lastMs || lastSlot < 0)
        {
            ref var slot = ref CollectionsMarshal.GetValueRefOrAddDefault(slots, unixMs, out var known);
            if (!known)
            {
                slot = samples.Count;
                samples.Add(new Sample(truck, unixMs, SignalValues.Empty));
            }

            lastMs = unixMs;
            lastSlot = slot;
        }

        ref var sample = ref CollectionsMarshal.AsSpan(samples)[lastSlot];
        var values = sample.Values;
        values.Set(signal, value);
        sample = sample with { Values = values };
    }
}
