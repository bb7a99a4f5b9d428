using System.Collections.Immutable;

namespace Vanehour.Models.Planning;

/// <summary>Which pump is rebuilt in which week.</summary>
public sealed record RebuildPlan
{
    /// <summary>The analysis it stands on.</summary>
    public required DateTimeOffset AsOf { get; init; }

    /// <summary>When it was made.</summary>
    public required DateTimeOffset MadeAt { get; init; }

    /// <summary>The first week that could be planned.</summary>
    public required PlanWeek FirstWeek { get; init; }

    /// <summary>Weeks that were planned.</summary>
    public required int HorizonWeeks { get; init; }

    /// <summary>What comes before any plan.</summary>
    public required ImmutableArray<StopFirst> Stop { get; init; }

    /// <summary>The jobs, in order of week, then of truck.</summary>
    public required ImmutableArray<PlannedJob> Jobs { get; init; }

    /// <summary>Pumps not rebuilt within the horizon, those that would be if there were room first.</summary>
    public required ImmutableArray<LaterPump> Later { get; init; }

    /// <summary>What is elsewhere than in the plan before.</summary>
    public required ImmutableArray<PlanMove> Moves { get; init; }

    /// <summary>What one more slot would save, dearest first; empty where slots are no matter.</summary>
    public required ImmutableArray<SlotPrice> Prices { get; init; }

    /// <summary>Kits to order, soonest first.</summary>
    public required ImmutableArray<KitOrder> Orders { get; init; }

    /// <summary>What a reader should know: pins set aside, trucks left out, risk that the slots cannot hold.</summary>
    public required ImmutableArray<string> Remarks { get; init; }

    /// <summary>Expected cost of the jobs, and of the pumps that are due and must wait.</summary>
    public required double Cost { get; init; }

    /// <summary>By how much a better plan could be cheaper at most, as a share of <see cref="Cost"/>; 0 where this one is proven to be the best.</summary>
    public required double Gap { get; init; }

    /// <summary>Whether the costs are still the invented examples.</summary>
    public required bool CostsAreExamples { get; init; }

    /// <summary>The job of a truck; null where it has none.</summary>
    public PlannedJob? JobOf(string truck) => Jobs.FirstOrDefault(j => j.Truck == truck);
}
