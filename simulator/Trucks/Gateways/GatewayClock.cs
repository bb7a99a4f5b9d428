using Vanehour.Simulator.Randomness;
using Vanehour.Simulator.Scenario;

namespace Vanehour.Simulator.Gateways;

/// <summary>A clock that now and then runs minutes fast or slow. It goes wrong and is corrected at night, so instants of one truck stay in order.</summary>
/// <param name="yard">Where the truck stands at night.</param>
/// <param name="dirt">How dirty, 0..3.</param>
/// <param name="log">Takes what happened.</param>
internal sealed class GatewayClock(Yard yard, double dirt, EventLog log)
{
    private DateOnly rightAgainOn;

    /// <summary>What the clock shows too much today, s.</summary>
    public int OffsetS { get; private set; }

    /// <summary>Begins a day with readings.</summary>
    public void BeginDay(DateOnly date, SeededRandom random)
    {
        if (date < rightAgainOn)
        {
            return;
        }

        OffsetS = 0;
        if (!random.Chance(GatewayRates.ClockWrong * dirt))
        {
            return;
        }

        OffsetS = random.Whole(GatewayRates.ClockLeastS, GatewayRates.ClockMostS) * (random.Chance(0.5) ? 1 : -1);
        rightAgainOn = date.AddDays(random.Whole(1, GatewayRates.ClockMostDays));
        log.Add(GatewayEventKind.ClockWrong, yard.At(date, 0).ToUnixTimeSeconds(), yard.At(rightAgainOn, 0).ToUnixTimeSeconds());
    }
}
