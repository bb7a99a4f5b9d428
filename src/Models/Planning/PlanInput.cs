using Vanehour.Fleet;
using Vanehour.Fleet.Lives;
using Vanehour.Fleet.Register;
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

    /// <summary>The input of a plan as of an analysis.</summary>
    /// <param name="asOf">The instant of the analysis; later service records do not count.</param>
    /// <param name="wear">Its forecasts.</param>
    /// <param name="findings">The findings as they stand.</param>
    /// <param name="register">Trucks and service records.</param>
    /// <param name="marks">Pins and blocks.</param>
    /// <param name="previous">The plan that this one follows; null for the first.</param>
    /// <param name="now">Now.</param>
    public static PlanInput Of(
        DateTimeOffset asOf, IReadOnlyList<WearForecast> wear, IReadOnlyList<Finding> findings, IFleetRegister register, IReadOnlyList<PlanMark> marks, RebuildPlan? previous, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(register);
        var trucks = register.Trucks();
        var records = register.ServiceRecords().Where(r => r.At <= asOf).ToLookup(r => r.Truck, StringComparer.Ordinal);
        return new PlanInput
        {
            AsOf = asOf,
            MadeAt = now,
            Wear = wear,
            Findings = findings,
            Trucks = trucks,
            FittedAt = trucks.ToDictionary(t => t.Id, t => LifeHistory.Build(t, records[t.Id]) is [.., var last] ? last.FittedAt : t.PumpFitted, StringComparer.Ordinal),
            Marks = marks,
            Previous = previous,
        };
    }
}
