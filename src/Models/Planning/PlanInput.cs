using Vanehour.Fleet;
using Vanehour.Models.Findings;
using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Planning;

/// <summary>What a plan is made from.</summary>
public sealed record PlanInput
{
    /// <summary>The instant of the analysis.</summary>
    public required DateTimeOffset AsOf { get; init; }

    /// <summary>Its forecasts.</summary>
    public required IReadOnlyList<WearForecast> Wear { get; init; }

    /// <summary>Its findings.</summary>
    public required IReadOnlyList<Finding> Findings { get; init; }

    public required IReadOnlyList<Truck> Trucks { get; init; }

    /// <summary>When the pump on each truck was fitted, by truck: a pin from before it is done with.</summary>
    public required IReadOnlyDictionary<string, DateTimeOffset> FittedAt { get; init; }

    /// <summary>Pins and blocks, in the order in which they were made.</summary>
    public required IReadOnlyList<PlanMark> Marks { get; init; }

    /// <summary>The plan that this one follows; null for the first.</summary>
    public RebuildPlan? Previous { get; init; }

    /// <summary>Now.</summary>
    public required DateTimeOffset MadeAt { get; init; }
}
