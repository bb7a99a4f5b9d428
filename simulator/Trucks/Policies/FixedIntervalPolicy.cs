namespace Vanehour.Simulator;

/// <summary>Rebuilds every pump after the same number of PTO hours.</summary>
/// <param name="IntervalH">PTO hours from fitting to rebuild; above 0.</param>
public sealed record FixedIntervalPolicy(double IntervalH) : IMaintenancePolicy
{
    public bool Rebuild(in PumpObservation seen) => seen.HoursSinceFitting >= IntervalH;
}
