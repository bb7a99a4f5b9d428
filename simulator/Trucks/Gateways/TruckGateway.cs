using Vanehour.Simulator.Randomness;
using Vanehour.Simulator.Scenario;
using Vanehour.Simulator.Sensors;

namespace Vanehour.Simulator.Gateways;

/// <summary>
/// What stands between the sensors of one truck and its telemetry. It goes through the truck's days in order and keeps no more than today's state.
/// </summary>
/// <remarks>
/// readings -> Reboots -> StuckSensor -> SingleErrors -> GatewayUnits -> GatewayClock -> Uplink (packs, gaps, duplicates) -> messages
/// </remarks>
internal sealed class TruckGateway
{
    private readonly TruckPlan plan;
    private readonly SimulationOptions options;
    private readonly Reboots reboots;
    private readonly StuckSensor stuck;
    private readonly SingleErrors single;
    private readonly GatewayUnits units;
    private readonly GatewayClock clock;
    private readonly MeterWatch meter;

    /// <summary>Puts the gateway at the first day.</summary>
    /// <param name="plan">The truck.</param>
    /// <param name="options">The fleet's options, with dirt above 0.</param>
    /// <param name="log">Takes what happens.</param>
    public TruckGateway(TruckPlan plan, SimulationOptions options, EventLog log)
    {
        this.plan = plan;
        this.options = options;
        reboots = new(options.Dirt, log);
        stuck = new(options.Dirt, log);
        single = new(plan.Sensors, options.Dirt, log);
        units = new(plan.Sensors, plan.Yard, options.Dirt, log);
        clock = new(plan.Yard, options.Dirt, log);
        meter = new(log);
    }

    /// <summary>Takes note that the meter was replaced.</summary>
    public void MeterReplaced(DateTimeOffset at) => meter.Replaced(at.ToUnixTimeSeconds());

    /// <summary>Turns what the sensors gave on a day into what the gateway gathered, in the same list; it may end up empty.</summary>
    /// <param name="date">The day.</param>
    /// <param name="readings">One or more, in order of time.</param>
    public GatewayDay Pass(DateOnly date, List<Reading> readings)
    {
        var random = SeededRandom.For(options.Seed, plan.Index, RandomStream.Gateway, date.DayNumber);
        clock.BeginDay(date, random);
        units.BeginDay(date, random);
        reboots.Apply(readings, random);
        if (readings.Count > 0)
        {
            meter.Look(readings);
            stuck.Apply(readings, random);
            single.Apply(readings, random);
            units.Apply(readings);
        }

        for (var i = 0; clock.OffsetS != 0 && i < readings.Count; i++)
        {
            readings[i] = readings[i] with { UnixS = readings[i].UnixS + clock.OffsetS };
        }

        return new GatewayDay(date, readings, units.Now, clock.OffsetS);
    }
}
