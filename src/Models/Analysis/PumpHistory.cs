using Vanehour.Fleet;
using Vanehour.Fleet.Lives;
using Vanehour.Fleet.Runs;

namespace Vanehour.Models.Analysis;

/// <summary>One pump life on one truck with everything the models read of it.</summary>
public sealed record PumpHistory
{
    public required Truck Truck { get; init; }

    public required Life Life { get; init; }

    public required PumpModel Model { get; init; }

    /// <summary>The runs of the life, in order of start.</summary>
    public required IReadOnlyList<Run> Runs { get; init; }

    public required LifeClock Clock { get; init; }

    /// <summary>The truck's service records up to the instant of the analysis, in order.</summary>
    public required IReadOnlyList<ServiceRecord> Records { get; init; }

    /// <summary>Whether the pump is on the truck now.</summary>
    public required bool IsCurrent { get; init; }

    /// <summary>Truck and pump serial, for people and as a fit's scope.</summary>
    public string Name => $"{Truck.Id} / {Life.PumpSerial}";
}
