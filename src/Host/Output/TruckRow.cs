namespace Vanehour.Host.Output;

/// <summary>A truck as listed; what is not known is null.</summary>
/// <param name="Truck">The truck's id.</param>
/// <param name="Name">Its name.</param>
/// <param name="Yard">Its yard.</param>
/// <param name="PumpModel">The model of the pump on it.</param>
/// <param name="PumpSerial">The serial of the pump on it.</param>
/// <param name="MeterH">The meter at the end of the last run, h.</param>
/// <param name="HoursSinceFitting">PTO hours since the pump was fitted, h, as of the last analysis.</param>
/// <param name="LastHeard">The latest sample's instant.</param>
/// <param name="Registered">Whether it is in the register.</param>
public sealed record TruckRow(
    string Truck,
    string? Name,
    string? Yard,
    string? PumpModel,
    string? PumpSerial,
    double? MeterH,
    double? HoursSinceFitting,
    DateTimeOffset? LastHeard,
    bool Registered);
