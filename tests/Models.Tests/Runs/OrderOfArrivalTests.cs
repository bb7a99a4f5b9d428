using FsCheck.Xunit;
using Microsoft.Extensions.Time.Testing;
using Vanehour.Fleet;
using Vanehour.Models.Runs;

namespace Vanehour.Models.Tests.Runs;

/// <summary>However the samples arrive and whenever runs are derived in between, the runs at the end are those of one derivation over everything.</summary>
public class OrderOfArrivalTests
{
    [Property(MaxTest = 200)]
    public void AnySplitIntoArrivalsAndDerivations_GivesTheSameRuns(int seed)
    {
        var noise = new Noise(seed);
        var samples = Feed(noise, seed);
        var chunks = Chunks(noise, samples);
        var telemetry = new MemoryTelemetry();
        var runs = new MemoryRuns();
        var clock = new FakeTimeProvider(Register.Fitted);
        var register = Register.Of(Register.Truck());
        var service = new RunDerivation(telemetry, runs, register, clock, new RunSettings());
        foreach (var chunk in chunks)
        {
            Done(telemetry.WriteAsync(chunk, default));
            if (noise.Below(3) == 0)
            {
                clock.Advance(TimeSpan.FromDays(noise.Uniform(0, 1)));
            }

            switch (noise.Below(4))
            {
                case 0:
                    break;
                case 1:
                    // Up to an instant inside the data; what lies beyond must not be lost.
                    Done(service.DeriveAsync(samples[noise.Below(samples.Count)].At, null, default));
                    break;
                case 2:
                    // A new process knows nothing of what the one before had in mind.
                    service = new RunDerivation(telemetry, runs, register, clock, new RunSettings());
                    goto default;
                default:
                    Done(service.DeriveAsync(null, null, default));
                    break;
            }
        }

        Done(service.DeriveAsync(null, null, default));

        Assert.Equal(RunDeriverTests.Derive(samples), runs.Read("T01"));
        Assert.Empty(telemetry.TouchedAsync(default).Result);

        var atOnce = new MemoryRuns();
        var all = new MemoryTelemetry();
        Done(all.WriteAsync(samples, default));
        Done(new RunDerivation(all, atOnce, register, clock, new RunSettings()).DeriveAsync(null, null, default));
        Assert.Equal(atOnce.Read("T01"), runs.Read("T01"));
        Assert.Equal(atOnce.SettledAt("T01"), runs.SettledAt("T01"));
    }

    internal static List<Sample> Feed(Noise noise, int seed)
    {
        var feed = new TruckFeed(seed) { EveryS = noise.Below(2) == 0 ? 10 : 25, MeterStepH = noise.Below(2) == 0 ? 0.1 : 0.01 };
        foreach (var signal in new[] { Signal.Pto, Signal.PumpSpeed, Signal.PtoHours, Signal.Vacuum, Signal.OilUsed })
        {
            if (noise.Below(4) == 0)
            {
                feed.Missing.Add(signal);
            }
        }

        if (noise.Below(2) == 0)
        {
            feed.Missing.Remove(Signal.Baro);
        }

        switch (noise.Below(3))
        {
            case 0:
                DaysOfChecks(noise, feed);
                break;
            case 1:
                ShortRunsAndSilences(noise, feed);
                break;
            default:
                AnyWork(noise, feed);
                break;
        }

        return Sparse(noise, feed.Samples);
    }

    /// <summary>A start-up check a day, some with a partly full tank: what is set aside hangs on the checks before.</summary>
    private static void DaysOfChecks(Noise noise, TruckFeed feed)
    {
        feed.Missing.Remove(Signal.Vacuum);
        feed.EveryS = 5;
        feed.Silence(60).Idle(1).Silence(300);
        for (var i = 0; i < 12; i++)
        {
            feed.Flow = (noise.Below(3) == 0 ? 1.15 : 1) / 60;
            feed.Neutral(10).Pull(130).Idle(1).Silence(noise.Uniform(245, 800));
        }
    }

    /// <summary>Runs so soon after each other that values from before the last one still hold.</summary>
    private static void ShortRunsAndSilences(Noise noise, TruckFeed feed)
    {
        for (var i = 0; i < 10; i++)
        {
            feed.Neutral(noise.Uniform(60, 300)).Idle(noise.Uniform(0, 1)).Silence(noise.Uniform(28, 118));
        }
    }

    /// <summary>Silences, idle time, work, and meters that jump, in any order.</summary>
    private static void AnyWork(Noise noise, TruckFeed feed)
    {
        var steps = 5 + noise.Below(25);
        for (var i = 0; i < steps; i++)
        {
            switch (noise.Below(8))
            {
                case 0:
                    feed.Silence(noise.Uniform(1, 700));
                    break;
                case 1:
                    feed.Silence(noise.Uniform(1, 15));
                    break;
                case 2:
                    feed.Idle(noise.Uniform(1, 45));
                    break;
                case 3:
                    feed.Idle(noise.Uniform(25, 300), 120);
                    break;
                case 4:
                    feed.Neutral(noise.Uniform(5, 900));
                    break;
                case 5:
                    feed.Neutral(10).Pull(noise.Uniform(60, 900)).Idle(noise.Uniform(0, 60));
                    break;
                case 6:
                    feed.Idle(noise.Uniform(1, 5)).Neutral(20).Pull(150).Neutral(60).Idle(2).Silence(noise.Uniform(200, 800));
                    break;
                default:
                    feed.MeterH = noise.Below(2) == 0 ? Math.Max(feed.MeterH - 20, 0) : feed.MeterH + noise.Uniform(0, 3);
                    break;
            }
        }

        feed.Neutral(30);
    }

    /// <summary>Loses samples, and half of the time single signals of samples.</summary>
    private static List<Sample> Sparse(Noise noise, List<Sample> samples)
    {
        var sparse = noise.Below(2) == 0;
        var result = new List<Sample>();
        foreach (var sample in samples)
        {
            var values = sample.Values;
            foreach (var signal in Enum.GetValues<Signal>())
            {
                var rare = signal is Signal.Baro or Signal.PtoHours or Signal.OilUsed;
                if (sparse && noise.Below(20) < (rare ? 17 : 5))
                {
                    values.Set(signal, null);
                }
            }

            if (!values.IsEmpty && noise.Below(15) != 0)
            {
                result.Add(sample with { Values = values });
            }
        }

        return result.Count > 0 ? result : [samples[0]];
    }

    internal static List<List<Sample>> Chunks(Noise noise, List<Sample> samples)
    {
        var chunks = new List<List<Sample>>();
        var stragglers = new List<Sample>();
        var chunk = new List<Sample>();
        foreach (var sample in samples)
        {
            if (noise.Below(40) == 0)
            {
                stragglers.Add(sample);
                continue;
            }

            chunk.Add(sample);
            if (noise.Below(60) == 0)
            {
                chunks.Add(chunk);
                chunk = [];
            }
        }

        chunks.Add(chunk);
        foreach (var straggler in stragglers)
        {
            chunks.Insert(noise.Below(chunks.Count + 1), [straggler]);
        }

        // Blocks out of coverage come later.
        for (var i = 0; i < chunks.Count; i++)
        {
            if (noise.Below(5) == 0)
            {
                var at = noise.Below(chunks.Count);
                (chunks[i], chunks[at]) = (chunks[at], chunks[i]);
            }
        }

        return chunks;
    }

    private static void Done(Task task) => task.GetAwaiter().GetResult();
}
