namespace Vanehour.Simulator;

/// <summary>Never rebuilds before a failure.</summary>
public sealed class RunToFailurePolicy : IMaintenancePolicy
{
    public bool Rebuild(in PumpObservation seen) => false;
}
