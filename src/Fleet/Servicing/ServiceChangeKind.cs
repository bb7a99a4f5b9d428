namespace Vanehour.Fleet.Servicing;

/// <summary>What was done to a service record.</summary>
public enum ServiceChangeKind
{
    Added,
    Changed,
    Deleted,
}
