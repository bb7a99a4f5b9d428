using Vanehour.Simulator.Randomness;
using Vanehour.Simulator.Scenario;

namespace Vanehour.Simulator.Gateways;

/// <summary>Decides when a truck's messages go out, and which go out twice. It holds no more than what a gap of coverage holds up.</summary>
internal sealed class Uplink
{
    private readonly TruckPlan plan;
    private readonly SimulationOptions options;
    private readonly EventLog log;
    private readonly Coverage coverage;
    private readonly PriorityQueue<SimulatedMessage, (long SentUnixMs, long Number)> waiting = new();
    private SeededRandom random = null!;
    private long lastSentMs;
    private long number;
    private long loggedGapS;

    /// <summary>Puts the uplink at the first day.</summary>
    /// <param name="plan">The truck.</param>
    /// <param name="options">The fleet's options, with dirt above 0.</param>
    /// <param name="log">Takes what happens.</param>
    public Uplink(TruckPlan plan, SimulationOptions options, EventLog log)
    {
        this.plan = plan;
        this.options = options;
        this.log = log;
        coverage = new Coverage(options.Dirt);
    }

    /// <summary>How many messages it holds.</summary>
    public int Waiting => waiting.Count;

    /// <summary>Begins a day with one or more readings.</summary>
    public void BeginDay(in GatewayDay day)
    {
        random = SeededRandom.For(options.Seed, plan.Index, RandomStream.Uplink, day.Date.DayNumber);
        coverage.BeginDay(day.Readings[0].UnixS - day.ClockOffsetS, day.Readings[^1].UnixS - day.ClockOffsetS, random);
    }

    /// <summary>What has gone out before an instant and was not taken yet, in order of sending.</summary>
    public IEnumerable<SimulatedMessage> TakeBefore(long unixMs)
    {
        while (waiting.TryPeek(out var message, out _) && message.SentUnixMs < unixMs)
        {
            yield return waiting.Dequeue();
        }
    }

    /// <summary>Takes a message that is ready to go out at its <see cref="SimulatedMessage.SentUnixMs"/>, which is not before that of the message before it.</summary>
    public void Add(SimulatedMessage ready)
    {
        // After a gap everything that waited goes first, one after another.
        var sent = Math.Max(coverage.After(ready.SentUnixMs), lastSentMs + GatewayRates.BurstStepMs);
        lastSentMs = sent;
        if (coverage.IsAway(ready.SentUnixMs) && loggedGapS != coverage.Gap.FromS)
        {
            loggedGapS = coverage.Gap.FromS;
            log.Add(GatewayEventKind.NoCoverage, coverage.Gap.FromS, coverage.Gap.ToS);
        }

        var message = ready with { SentUnixMs = sent };
        waiting.Enqueue(message, (sent, number++));
        if (random.Chance(GatewayRates.Duplicate * options.Dirt))
        {
            var again = coverage.After(sent + (1000L * random.Whole(1, GatewayRates.DuplicateMostS)));
            waiting.Enqueue(message with { SentUnixMs = again }, (again, number++));
            log.Add(GatewayEventKind.Duplicate, sent / 1000, again / 1000);
        }
    }
}
