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

    /// <summary>When the pump that runs at the beginning was fitted or last rebuilt.</summary>
    public required DateTimeOffset CurrentFittedAt { get; init; }

    /// <summary>The meter then, h.</summary>
    public required double CurrentMeterAtFittingH { get; init; }

    /// <summary>Whether the shop puts a rebuilt spare on instead of rebuilding the pump.</summary>
    public bool SwapsPumps { get; init; }

    /// <summary>Service records of lives that ended before the beginning, in order of instant.</summary>
    public required ImmutableArray<ServiceRecord> PastRecords { get; init; }

    /// <summary>The meter when the simulation begins, h.</summary>
    public double MeterAtStartH => CurrentMeterAtFittingH + AgeH;

    /// <summary>Seconds from 20 to 40 kPa that the register's pump and tank would take as new.</summary>
    public double BookCheckS => CheckS(SlipLaw.NewShare);

    /// <summary><see cref="BookCheckS"/> over the same with the vanes at their limit.</summary>
    public double CheckSpeedAtLimit => BookCheckS / CheckS(new SlipLaw(Build.Model.FlowKeptLimit, Yard.StandardPressureKPa).Share(1));

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

    private double CheckS(double slipShare)
    {
        const double From = 20;
        var ultimate = Yard.StandardPressureKPa / (1 + slipShare);
        return Truck.TankVolume.Si / (Build.Model.FreeAir.Si * (1 + slipShare)) * Math.Log((ultimate - From) / (ultimate - SlipLaw.ReferenceVacuumKPa));
    }
}
