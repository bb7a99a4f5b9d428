namespace Vanehour.Simulator;

/// <summary>Rebuilds a pump whose vanes were measured at or below the maker's least width; what the shops of a simulated fleet do where nothing else is asked for.</summary>
public sealed class InspectionPolicy : IMaintenancePolicy
{
    public static readonly InspectionPolicy Instance = new();

    public bool Rebuild(in PumpObservation seen) => seen.VaneWidthMm <= seen.VaneWidthLimitMm;
}
