using System.Collections.Frozen;
using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Simulator.Duty;
using Vanehour.Simulator.Gateways;
using Vanehour.Simulator.Physics;
using Vanehour.Simulator.Publishing;
using Vanehour.Simulator.Scenario;
using Vanehour.Simulator.Sensors;
using Vanehour.Simulator.Simulation;

namespace Vanehour.Simulator;

/// <summary>
/// An invented fleet, the same for the same options. Telemetry is made anew each time it is enumerated, one truck-day at a time, so memory does not
/// grow with the length. Enumerations are independent and may run side by side.
/// </summary>
public sealed partial class SimulatedFleet
{
    private readonly ImmutableArray<TruckPlan> plans;
    private readonly FrozenDictionary<string, TruckPlan> byId;
    private readonly FrozenDictionary<int, Weather> weather;
    private readonly FrozenDictionary<int, YardCalendar> calendars;
    private readonly IMaintenancePolicy policy;
    private readonly Lazy<ImmutableArray<TruthPass>> passes;
    private readonly Lazy<ImmutableArray<ServiceRecord>> serviceRecords;
    private readonly Lazy<FleetTruth> truth;

    private SimulatedFleet(SimulationOptions options, IMaintenancePolicy policy)
    {
        Options = options;
        this.policy = policy;
        plans = FleetPlan.Build(options);
        byId = plans.ToFrozenDictionary(p => p.Truck.Id, StringComparer.Ordinal);
        weather = Yard.All.ToFrozenDictionary(y => y.Number, y => new Weather(y, options.Seed));
        calendars = Yard.All.ToFrozenDictionary(y => y.Number, y => new YardCalendar(y.Number, options.Seed));
        LastDay = options.From.AddMonths(options.Months).AddDays(-1);
        Start = Yard.All.Min(y => y.At(options.From, 0)).ToUniversalTime();
        End = Yard.All.Max(y => y.At(LastDay.AddDays(1), 0)).ToUniversalTime();
        Trucks = [.. plans.Select(p => p.Truck)];
        PumpModels = [.. InventedPumpModels.Usual.Concat(plans.Select(p => p.Build)).Select(b => b.Model).Distinct().OrderBy(m => m.Model, StringComparer.Ordinal)];
        passes = new(() => [.. plans.AsParallel().AsOrdered().Select(p => TruthPass.Run(this, p))]);

        truth = new(() => TruthPass.Of(this, passes.Value));

        // Records of one truck and instant stay in the order in which they were made: OrderBy is stable.
        serviceRecords = new(() => [.. plans
            .Zip(passes.Value, (plan, pass) => plan.PastRecords.Concat(pass.Services))
            .SelectMany(r => r).OrderBy(r => r.At).ThenBy(r => r.Truck, StringComparer.Ordinal)]);
    }

    /// <summary>What it was made from.</summary>
    public SimulationOptions Options { get; }

    /// <summary>The first local midnight of the first day; no sample lies before it.</summary>
    public DateTimeOffset Start { get; }

    /// <summary>The last local midnight after the last day, UTC; every sample lies before it.</summary>
    public DateTimeOffset End { get; }

    /// <summary>The pump models, in order of name.</summary>
    public ImmutableArray<PumpModel> PumpModels { get; }

    /// <summary>The trucks, in order of number.</summary>
    public ImmutableArray<Truck> Trucks { get; }

    /// <summary>What was done to the pumps, in order of instant. Cost of the first reading: one pass through the physics without sensors.</summary>
    public ImmutableArray<ServiceRecord> ServiceRecords => serviceRecords.Value;

    /// <summary>What is true of the fleet, for scoring only. Cost of the first call: that of <see cref="ServiceRecords"/>, and of each life a pass with long steps up to two years past the end.</summary>
    public FleetTruth Truth() => truth.Value;

    /// <summary>
    /// Goes through the same fleet, days and accidents of wear under another policy. Rebuilds that the scenario fixes are left out, so that the policy alone decides. Cost: one
    /// pass through the physics, with sensors where the policy wants samples.
    /// </summary>
    /// <param name="policy">When pumps are rebuilt.</param>
    public PolicyOutcome RunUnder(IMaintenancePolicy policy)
    {
        ArgumentNullException.ThrowIfNull(policy);
        return new PolicyOutcome([.. plans.AsParallel().AsOrdered().Select(p => RunUnder(policy, p with { RebuildOn = null }))]);
    }

    internal DateOnly LastDay { get; }

    internal ImmutableArray<TruckPlan> Plans => plans;

    /// <summary>Draws up a fleet.</summary>
    /// <param name="options">What fleet.</param>
    /// <param name="policy">When its pumps are rebuilt, beyond what the scenario fixes; null for <see cref="InspectionPolicy"/>. Must always decide alike on the same observations.</param>
    /// <exception cref="ArgumentOutOfRangeException">An option is outside its range.</exception>
    public static SimulatedFleet Create(SimulationOptions options, IMaintenancePolicy? policy = null)
    {
        ArgumentNullException.ThrowIfNull(options);
        options.Validate();
        return new SimulatedFleet(options, policy ?? InspectionPolicy.Instance);
    }

    /// <summary>
    /// The samples of a truck in order of time, in canonical units, as a decoder of its messages would see them. With dirt they carry what the gateway did to the values and the
    /// clock; late, twice or out of order are only messages.
    /// </summary>
    /// <param name="truck">The truck's id.</param>
    /// <exception cref="ArgumentException">There is no such truck.</exception>
    public IEnumerable<Sample> Samples(string truck)
    {
        ArgumentNullException.ThrowIfNull(truck);
        return byId.TryGetValue(truck, out var plan)
            ? Enumerate(plan)
            : throw new ArgumentException($"The simulated fleet has no truck {truck}.", nameof(truck));

        IEnumerable<Sample> Enumerate(TruckPlan p)
        {
            foreach (var day in Days(p))
            {
                foreach (var reading in day.Readings)
                {
                    yield return new Sample(p.Truck.Id, reading.UnixS * 1000, day.Sensors.ToCanonical(reading.Values));
                }
            }
        }
    }

    /// <summary>The fleet's messages in order of sending (ties by truck); without dirt that is the order of their last instants, and of one truck always the order of time.</summary>
    public IEnumerable<SimulatedMessage> Messages()
    {
        var queue = new PriorityQueue<IEnumerator<SimulatedMessage>, (long SentUnixMs, int Truck)>();
        try
        {
            foreach (var plan in plans)
            {
                Enqueue(TruckMessages(plan).GetEnumerator(), plan.Index);
            }

            while (queue.TryDequeue(out var source, out var place))
            {
                yield return source.Current;
                Enqueue(source, place.Truck);
            }
        }
        finally
        {
            while (queue.TryDequeue(out var source, out _))
            {
                source.Dispose();
            }
        }

        void Enqueue(IEnumerator<SimulatedMessage> source, int truck)
        {
            if (source.MoveNext())
            {
                queue.Enqueue(source, (source.Current.SentUnixMs, truck));
            }
            else
            {
                source.Dispose();
            }
        }
    }

    /// <summary>Counts by going through everything once; cancellable.</summary>
    public SimulationTotals Count(CancellationToken cancellationToken = default)
    {
        long messages = 0;
        long samples = 0;
        long bytes = 0;
        foreach (var message in Messages())
        {
            cancellationToken.ThrowIfCancellationRequested();
            messages++;
            samples += message.Samples;
            bytes += message.Payload.Length;
        }

        return new SimulationTotals(messages, samples, bytes);
    }

    internal TruckSimulation Simulate(TruckPlan plan) => Simulate(plan, policy);

    /// <summary>What was injected into a truck's telemetry, in order of beginning; none without dirt. Cost: one pass through its messages.</summary>
    internal ImmutableArray<GatewayEvent> GatewayEvents(TruckPlan plan)
    {
        var events = new List<GatewayEvent>();
        if (Options.Dirt > 0)
        {
            foreach (var _ in TruckMessages(plan, events.Add))
            {
            }
        }

        return [.. events.OrderBy(e => e.From).ThenBy(e => e.Kind).ThenBy(e => e.To)];
    }

    /// <summary>What a truck's gateway gathers day by day. The list is the same object every time: use it before the next day.</summary>
    private IEnumerable<GatewayDay> Days(TruckPlan plan, EventLog? log = null)
    {
        var simulation = Simulate(plan);
        var gateway = GatewayOf(plan, simulation, log);
        var readings = new List<Reading>(2048);
        for (var date = Options.From; date <= LastDay; date = date.AddDays(1))
        {
            readings.Clear();
            simulation.RunDay(date, readings, null);
            var day = Gathered(plan, gateway, date, readings);
            if (readings.Count > 0)
            {
                yield return day;
            }
        }
    }

    private TruckGateway? GatewayOf(TruckPlan plan, TruckSimulation simulation, EventLog? log)
    {
        if (Options.Dirt <= 0)
        {
            return null;
        }

        var gateway = new TruckGateway(plan, Options, log ?? new EventLog(plan.Truck.Id, null));
        simulation.MeterReplaced = gateway.MeterReplaced;
        return gateway;
    }

    private static GatewayDay Gathered(TruckPlan plan, TruckGateway? gateway, DateOnly date, List<Reading> readings) =>
        gateway is null || readings.Count == 0 ? new GatewayDay(date, readings, plan.Sensors, 0) : gateway.Pass(date, readings);

    private IEnumerable<SimulatedMessage> TruckMessages(TruckPlan plan, Action<GatewayEvent>? happened = null)
    {
        var log = new EventLog(plan.Truck.Id, happened);
        var uplink = Options.Dirt > 0 ? new Uplink(plan, Options, log) : null;
        using var packer = new MessagePacker(plan.Truck.Id, Options.PackInstants);
        foreach (var day in Days(plan, log))
        {
            uplink?.BeginDay(day);
            foreach (var message in packer.Pack(day))
            {
                if (uplink is null)
                {
                    yield return message;
                    continue;
                }

                foreach (var sent in uplink.TakeBefore(message.SentUnixMs))
                {
                    yield return sent;
                }

                uplink.Add(message);
            }
        }

        foreach (var sent in uplink?.TakeBefore(long.MaxValue) ?? [])
        {
            yield return sent;
        }
    }

    private TruckSimulation Simulate(TruckPlan plan, IMaintenancePolicy decides) =>
        new(plan, Options, weather[plan.Yard.Number], calendars[plan.Yard.Number], decides);

    private static PolicyOutcomeOfTruck OutcomeOf(TruckSimulation simulation, TruckPlan plan, double wearAtStart) =>
        new(plan.Truck.Id, simulation.PlannedRebuilds, simulation.Failures, simulation.Pump.EngagedS / 3600, simulation.UnusedLives, simulation.PastLimit, wearAtStart, simulation.Pump.Wear);

    private PolicyOutcomeOfTruck RunUnder(IMaintenancePolicy decides, TruckPlan plan)
    {
        var simulation = Simulate(plan, decides);
        var gateway = GatewayOf(plan, simulation, null);
        var readings = decides.WantsSamples ? new List<Reading>(2048) : null;
        var samples = new List<Sample>();
        var wearAtStart = simulation.Pump.Wear;
        for (var date = Options.From; date <= LastDay; date = date.AddDays(1))
        {
            readings?.Clear();
            simulation.RunDay(date, readings, null);
            if (readings is { Count: > 0 })
            {
                var day = Gathered(plan, gateway, date, readings);
                samples.Clear();
                samples.AddRange(readings.Select(r => new Sample(plan.Truck.Id, r.UnixS * 1000, day.Sensors.ToCanonical(r.Values))));
                decides.See(plan.Truck.Id, samples);
            }
        }

        return OutcomeOf(simulation, plan, wearAtStart);
    }
}
