using System.Collections.Frozen;
using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Models.Findings;
using Vanehour.Models.Planning;
using Vanehour.Models.VaneWear;

namespace Vanehour.Board.Reading;

/// <summary>What is known of the fleet now, read together.</summary>
public sealed record FleetNow
{
    /// <summary>Changes with every reading that found something else.</summary>
    public required string Stamp { get; init; }

    /// <summary>The latest analysis; null where there was none.</summary>
    public required DateTimeOffset? AsOf { get; init; }

    /// <summary>In order of id.</summary>
    public required ImmutableArray<Truck> Trucks { get; init; }

    public required FrozenDictionary<string, Truck> ById { get; init; }

    public required ImmutableArray<PumpModel> Models { get; init; }

    public required FrozenDictionary<string, WearForecast> Wear { get; init; }

    /// <summary>Open and acknowledged findings, most urgent first.</summary>
    public required ImmutableArray<Finding> Findings { get; init; }

    public required ILookup<string, Finding> FindingsOf { get; init; }

    /// <summary>The plan as last kept; null where there is none.</summary>
    public required RebuildPlan? Plan { get; init; }

    /// <summary>Pins and blocks.</summary>
    public required ImmutableArray<PlanMark> Marks { get; init; }

    /// <summary>Every yard, in order.</summary>
    public ImmutableArray<string> Yards => [.. Trucks.Select(t => t.Yard).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
}
