namespace Vanehour.Simulator;

/// <summary>Rebuilds every pump after a number of PTO hours that depends on its model; a model that has none runs to failure.</summary>
/// <param name="IntervalsH">PTO hours from fitting to rebuild by pump model; above 0.</param>
public sealed record ModelIntervalPolicy(IReadOnlyDictionary<string, double> IntervalsH) : IMaintenancePolicy
{
    public bool Rebuild(in PumpObservation seen) => IntervalsH.TryGetValue(seen.PumpModel, out var interval) && seen.HoursSinceFitting >= interval;
}
