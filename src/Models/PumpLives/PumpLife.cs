using Vanehour.Models.Survival;

namespace Vanehour.Models.PumpLives;

/// <summary>One pump life as life models read it.</summary>
public sealed record PumpLife
{
    public required string Truck { get; init; }

    public required string PumpSerial { get; init; }

    public required string PumpModel { get; init; }

    public required DateTimeOffset FittedAt { get; init; }

    /// <summary>When it ended, or the instant of the analysis while it runs.</summary>
    public required DateTimeOffset Until { get; init; }

    /// <summary>PTO hours at which records of it begin, h: 0 when they begin with the fitting. A pump that had failed earlier would not be among the lives.</summary>
    public required double EntryH { get; init; }

    /// <summary>PTO hours at <see cref="Until"/>, h.</summary>
    public required double ExitH { get; init; }

    public required LifeEnding Ending { get; init; }

    /// <summary>Whether a vane width was measured in the 30 days before a planned rebuild: then it was rebuilt because it was worn, and says less than one rebuilt at random.</summary>
    public bool EndedByMeasurement { get; init; }

    /// <summary>For life models: only a failure is one, everything else is censored.</summary>
    public Lifetime Lifetime => new(EntryH, ExitH, Ending == LifeEnding.Failed);
}
