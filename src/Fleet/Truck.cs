using Vanehour.Fleet.Units;

namespace Vanehour.Fleet;

/// <summary>A vacuum truck as registered, with the pump that the register first knew on it. Later swaps are service records.</summary>
public sealed record Truck
{
    /// <summary>The truck's id as in its topic; see <see cref="TruckId"/>.</summary>
    public required string Id { get; init; }

    public string? Name { get; init; }

    public required string Yard { get; init; }

    public required string PumpModel { get; init; }

    public required string PumpSerial { get; init; }

    public required DateTimeOffset PumpFitted { get; init; }

    /// <summary>PTO hours on the truck's meter when the pump was fitted.</summary>
    public required double MeterAtFittingH { get; init; }

    public required Volume TankVolume { get; init; }

    /// <summary>The yard's elevation above sea level; unknown counts as sea level.</summary>
    public Length? Elevation { get; init; }

    /// <summary>IANA time zone of the yard.</summary>
    public required string TimeZone { get; init; }

    public bool InService { get; init; } = true;

    public DriveKind? Drive { get; init; }

    public bool? Deodoriser { get; init; }
}
