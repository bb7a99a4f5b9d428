using Vanehour.Simulator.Randomness;

namespace Vanehour.Simulator.Gateways;

/// <summary>When a truck has no coverage.</summary>
/// <param name="dirt">How dirty, 0..3.</param>
internal sealed class Coverage(double dirt)
{
    /// <summary>The last gap so far, s since 1970-01-01 UTC; the end is not part of it.</summary>
    public (long FromS, long ToS) Gap { get; private set; } = (0, 0);

    /// <summary>Begins a day that runs from the first to the last reading, s since 1970-01-01 UTC.</summary>
    public void BeginDay(long firstS, long lastS, SeededRandom random)
    {
        if (!random.Chance(GatewayRates.NoCoverage * dirt) || firstS < Gap.ToS)
        {
            return;
        }

        var from = firstS + (long)(random.NextUnit() * (lastS - firstS));
        Gap = (from, from + random.Whole(GatewayRates.GapLeastS, GatewayRates.GapMostS));
    }

    /// <summary>When something that wants to go out at an instant can, ms since 1970-01-01 UTC.</summary>
    public long After(long unixMs) => IsAway(unixMs) ? Gap.ToS * 1000 : unixMs;

    /// <summary>Whether there is no coverage at an instant, ms since 1970-01-01 UTC.</summary>
    public bool IsAway(long unixMs) => unixMs >= Gap.FromS * 1000 && unixMs < Gap.ToS * 1000;
}
