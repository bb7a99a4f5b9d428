namespace Vanehour.Models.Planning;

/// <summary>A pump that is not rebuilt within the horizon.</summary>
/// <param name="Truck">The truck.</param>
/// <param name="PumpSerial">The pump.</param>
/// <param name="PumpModel">Its model.</param>
/// <param name="Yard">Its yard.</param>
/// <param name="ChanceByEnd">Chance that wear is at its limit by the end of the horizon, 0..1.</param>
/// <param name="IsDue">Whether it would be cheaper within the horizon, if there were room.</param>
/// <param name="LimitAt">The median date of the limit; null beyond the forecast's horizon.</param>
public sealed record LaterPump(string Truck, string PumpSerial, string PumpModel, string Yard, double ChanceByEnd, bool IsDue, DateTimeOffset? LimitAt);
