using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Simulator.Duty;
using Vanehour.Simulator.Faults;
using Vanehour.Simulator.Physics;
using Vanehour.Simulator.Sensors;

namespace Vanehour.Simulator.Scenario;

/// <summary>Everything that is fixed about a simulated truck before the first day.</summary>
internal sealed record TruckPlan
{
    /// <summary>0 for the first truck; the key of its random streams.</summary>
    public required int Index { get; init; }

    public required TruckRole Role { get; init; }

    public required Truck Truck { get; init; }

    public required Yard Yard { get; init; }

    public required PumpBuild Build { get; init; }

    public required PumpTraits Traits { get; init; }

    public required CrewHabits Crew { get; init; }

    public required SensorSet Sensors { get; init; }

    public required ImmutableArray<InjectedFault> Faults { get; init; }

    /// <summary>PTO hours since fitting when the simulation begins.</summary>
    public required double AgeH { get; init; }

    /// <summary>What the oil counter shows when the simulation begins, L.</summary>
    public required double OilUsedAtStartL { get; init; }

    /// <summary>The factor on the wear rate of the life that runs at the beginning.</summary>
    public required double FirstLifeWearFactor { get; init; }

    /// <summary>The Sunday of a planned rebuild, or null.</summary>
    public DateOnly? RebuildOn { get; init; }

    /// <summary>Sundays on which the vane width is measured.</summary>
    public required ImmutableArray<DateOnly> VaneWidthOn { get; init; }

    /// <summary>The meter when the simulation begins, h.</summary>
    public double MeterAtStartH => Truck.MeterAtFittingH + AgeH;

    /// <summary>The vacuum at which the relief valve really lifts, kPa.</summary>
    public double ReliefKPa => Build.Model.ReliefVacuum!.Value.Kilopascals + Traits.ReliefOffsetKPa;

    /// <summary>What the faults do at an instant.</summary>
    public FaultEffects EffectsAt(long unixS)
    {
        var effects = FaultEffects.None;
        foreach (var fault in Faults)
        {
            effects = fault.AddTo(effects, unixS);
        }

        return effects;
    }
}
