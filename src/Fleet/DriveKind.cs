namespace Vanehour.Fleet;

/// <summary>How the power take-off drives the pump.</summary>
public enum DriveKind
{
    Direct,
    Gearbox,
    Hydraulic,
}
