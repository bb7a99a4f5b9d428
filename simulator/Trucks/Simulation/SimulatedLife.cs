using Vanehour.Simulator.Physics;

namespace Vanehour.Simulator.Simulation;

/// <summary>One life of a truck's pump as the simulation goes through it.</summary>
internal sealed class SimulatedLife
{
    /// <summary>Wear from which the vanes count as worn in the truth; invented.</summary>
    public const double WornAtWear = 0.8;

    public required string PumpSerial { get; init; }

    public required DateTimeOffset FittedAt { get; init; }

    public required double MeterAtFittingH { get; init; }

    /// <summary>Wear at which the pump fails; invented, beyond the limit.</summary>
    public required double FailsAtWear { get; init; }

    /// <summary>Wear at the last run seen.</summary>
    public double LastWear { get; private set; }

    public DateTimeOffset? RemovedAt { get; set; }

    /// <summary>Whether a failure ended it.</summary>
    public bool Failed { get; set; }

    /// <summary>When wear passed <see cref="WornAtWear"/>.</summary>
    public DateTimeOffset? WornAt { get; private set; }

    public DateTimeOffset? LimitAt { get; private set; }

    /// <summary>PTO hours since fitting when wear passed 1.</summary>
    public double? LimitAtH { get; private set; }

    public double? FailsAtH { get; private set; }

    /// <summary>Takes note of the pump's state at the end of a run.</summary>
    public void Observe(TruckMachine pump, DateTimeOffset now)
    {
        LastWear = pump.Wear;
        if (pump.Wear >= WornAtWear)
        {
            WornAt ??= now;
        }

        if (pump.Wear >= 1 && LimitAt is null)
        {
            LimitAt = now;
            LimitAtH = pump.HoursSinceFitting;
        }

        if (pump.Wear >= FailsAtWear)
        {
            FailsAtH ??= pump.HoursSinceFitting;
        }
    }

    public SimulatedLife Clone() => (SimulatedLife)MemberwiseClone();
}
