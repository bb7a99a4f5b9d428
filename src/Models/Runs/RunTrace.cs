using System.Runtime.InteropServices;
using Vanehour.Fleet;

namespace Vanehour.Models.Runs;

/// <summary>The samples of one run signal by signal, with what held at its start. NaN stands for what was not said. Reused from run to run.</summary>
internal sealed class RunTrace
{
    private readonly double[][] values = new double[SignalInfo.Count][];
    private readonly double[] initial = new double[SignalInfo.Count];
    private readonly long[] initialMs = new long[SignalInfo.Count];
    private readonly double[] closing = new double[SignalInfo.Count];
    private long[] timesMs = [];

    public RunTrace() => Array.Fill(values, []);

    public long StartMs { get; private set; }

    public long EndMs { get; private set; }

    /// <summary>How many samples: those from the start up to the end, a closing one with the power take-off off not counted.</summary>
    public int Count { get; private set; }

    public ReadOnlySpan<long> TimesMs => timesMs.AsSpan(0, Count);

    /// <summary>The values of a signal, one for each sample.</summary>
    public Span<double> this[Signal signal] => values[(int)signal].AsSpan(0, Count);

    /// <summary>What held at the start, or NaN.</summary>
    public double Initial(Signal signal) => initial[(int)signal];

    public long InitialMs(Signal signal) => initialMs[(int)signal];

    /// <summary>What the sample at the end said whose power take-off was off, or NaN.</summary>
    public double Closing(Signal signal) => closing[(int)signal];

    /// <summary>Takes samples <paramref name="from"/> up to but not at <paramref name="to"/>.</summary>
    public void Load(List<Sample> samples, int from, int to, long startMs, long endMs, bool endHeard, in HeldValues held)
    {
        var span = CollectionsMarshal.AsSpan(samples);
        StartMs = startMs;
        EndMs = endMs;
        var closes = endHeard && to > from && span[to - 1].UnixMs == endMs;
        Count = closes ? to - from - 1 : to - from;
        Grow();
        for (var s = 0; s < SignalInfo.Count; s++)
        {
            var column = values[s];
            for (var i = 0; i < Count; i++)
            {
                column[i] = span[from + i].Values[s];
            }

            closing[s] = closes ? span[to - 1].Values[s] : double.NaN;
            (initial[s], initialMs[s]) = HeldAtStart(span[..from], (Signal)s, held);
        }

        for (var i = 0; i < Count; i++)
        {
            timesMs[i] = span[from + i].UnixMs;
        }
    }

    private (double Value, long Ms) HeldAtStart(ReadOnlySpan<Sample> before, Signal signal, in HeldValues held)
    {
        var holdMs = HeldValues.HoldMs(signal);
        for (var i = before.Length - 1; i >= 0 && StartMs - before[i].UnixMs <= holdMs; i--)
        {
            var value = before[i].Values[(int)signal];
            if (!double.IsNaN(value))
            {
                return (value, before[i].UnixMs);
            }
        }

        // Where the start lies back in time, what was said since is among the samples.
        return held.TimeOf(signal) <= StartMs ? (held.At(signal, StartMs), held.TimeOf(signal)) : (double.NaN, 0);
    }

    private void Grow()
    {
        if (timesMs.Length >= Count)
        {
            return;
        }

        var length = Math.Max(Count, 2 * timesMs.Length);
        timesMs = new long[length];
        for (var s = 0; s < values.Length; s++)
        {
            values[s] = new double[length];
        }
    }
}
