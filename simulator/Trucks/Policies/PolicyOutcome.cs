using System.Collections.Immutable;

namespace Vanehour.Simulator;

/// <summary>What came of a policy over the time simulated.</summary>
/// <param name="Trucks">One entry a truck, in order of number.</param>
public sealed record PolicyOutcome(ImmutableArray<PolicyOutcomeOfTruck> Trucks)
{
    /// <summary>Rebuilds before a failure.</summary>
    public int PlannedRebuilds => Trucks.Sum(t => t.PlannedRebuilds);

    public int Failures => Trucks.Sum(t => t.Failures);

    /// <summary>Pumps that were past their limit when they were rebuilt or failed.</summary>
    public int PastLimit => Trucks.Sum(t => t.PastLimit);

    /// <summary>PTO hours worked.</summary>
    public double PtoHours => Trucks.Sum(t => t.PtoHours);

    /// <summary>Vane wear thrown away by planned rebuilds, in lives: the sum of 1 - wear where that is above 0.</summary>
    public double UnusedLives => Trucks.Sum(t => t.UnusedLives);
}

/// <summary>What came of a policy for one truck.</summary>
/// <param name="Truck">Its id.</param>
/// <param name="PlannedRebuilds">Rebuilds before a failure.</param>
/// <param name="Failures">Pumps that failed.</param>
/// <param name="PtoHours">PTO hours worked.</param>
/// <param name="UnusedLives">Vane wear thrown away by planned rebuilds, in lives.</param>
/// <param name="PastLimit">Pumps that were past their limit when they were rebuilt or failed.</param>
/// <param name="WearAtStart">Wear of its pump on the first day.</param>
/// <param name="WearAtEnd">Wear of its pump after the last day: what was used of a rebuild that is still to be paid.</param>
public sealed record PolicyOutcomeOfTruck(string Truck, int PlannedRebuilds, int Failures, double PtoHours, double UnusedLives, int PastLimit, double WearAtStart, double WearAtEnd);
