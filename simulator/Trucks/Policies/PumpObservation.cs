namespace Vanehour.Simulator;

/// <summary>What a shop knows of a pump on a Sunday without opening it.</summary>
public readonly record struct PumpObservation
{
    /// <summary>The truck's id.</summary>
    public required string Truck { get; init; }

    public required string PumpModel { get; init; }

    /// <summary>The local date.</summary>
    public required DateOnly Date { get; init; }

    /// <summary>PTO hours since it was fitted.</summary>
    public required double HoursSinceFitting { get; init; }

    /// <summary>Vane width as last measured through the inspection port, mm, with the caliper's error; null before the first.</summary>
    public double? VaneWidthMm { get; init; }

    /// <summary>The maker's least vane width, mm.</summary>
    public required double VaneWidthLimitMm { get; init; }

    /// <summary>
    /// Median over the last eight whole start-up checks of the seconds that the register's pump and tank would take from 20 to 40 kPa as new, over the seconds taken; null before
    /// the eighth. The real tank and pump are some percent off the register.
    /// </summary>
    public double? CheckSpeed { get; init; }

    /// <summary>Where <see cref="CheckSpeed"/> would be with the vanes at their limit, by the register.</summary>
    public required double CheckSpeedAtLimit { get; init; }
}
