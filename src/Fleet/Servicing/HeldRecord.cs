namespace Vanehour.Fleet.Servicing;

/// <summary>A record under a name that stays while it is edited, so that what was wrong with it before can be told from what became wrong.</summary>
/// <param name="Token">The name: its key in the register before the change, or the key it gets.</param>
/// <param name="Record">The record.</param>
internal sealed record HeldRecord(string Token, ServiceRecord Record);
