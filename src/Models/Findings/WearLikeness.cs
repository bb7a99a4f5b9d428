using Vanehour.Fleet.Runs;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Findings;

/// <summary>
/// Whether a fall in flow kept looks like wear. Worn vanes let more back through their clearances; they displace as much as ever. A fall that comes mostly from displaced flow is a
/// blockage or a slower pump, however slowly it grew.
/// </summary>
internal static class WearLikeness
{
    private const int Each = 15;
    private const int Fewest = 8;

    // A smaller fall than this is lost in the scatter of the two parts, which their fits trade against each other.
    private const double LeastFall = 0.05;

    // Below this share of the fall from leakage it is not wear; of our own, half-way to a blockage with a little leakage of its own.
    private const double LeastLeakShare = 0.4;

    /// <summary>False where the checks say that it is not wear; true also where they cannot tell.</summary>
    public static bool Of(PumpState state)
    {
        var checks = state.Pump.Runs
            .Select(r => r.FirstPumpDown)
            .Where(d => d is { IsStartUpCheck: true, LeakPerVolumePerS: not null, SpeedRpm: not null })
            .Select(d => d!)
            .ToList();
        if (checks.Count < 2 * Fewest)
        {
            return true;
        }

        var n = Math.Min(Each, checks.Count / 2);
        var (flowBefore, leakBefore) = Parts(checks.Take(n));
        var (flowNow, leakNow) = Parts(checks.TakeLast(n));
        var asBefore = flowBefore - leakBefore;
        var byFlow = (flowBefore - flowNow) / asBefore;
        var byLeak = (leakNow - leakBefore) / asBefore;
        return byFlow + byLeak < LeastFall || byLeak / (byFlow + byLeak) >= LeastLeakShare;
    }

    // Displaced flow, and what leaks back at the reference vacuum, both over the tank's volume.
    private static (double Flow, double Leak) Parts(IEnumerable<PumpDown> checks)
    {
        var list = checks.ToList();
        return (
            Robust.Median(list.Select(d => d.FlowPerVolumePerS)),
            Robust.Median(list.Select(d => d.LeakPerVolumePerS!.Value * d.ReferenceVacuumKPa / (d.AmbientKPa - d.ReferenceVacuumKPa))));
    }
}
