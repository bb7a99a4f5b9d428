using System.Collections.Immutable;
using Vanehour.Models.Survival;

namespace Vanehour.Models.Comparing;

/// <summary>What the pumps of a model have cost per PTO hour, by the service records.</summary>
/// <param name="PumpModel">The model.</param>
/// <param name="Trucks">Trucks that had a pump of it.</param>
/// <param name="HoursH">PTO hours under observation of all its lives, h.</param>
/// <param name="PerHour">Planned rebuilds and failures over those hours, in units of <see cref="PumpLives.LifeOptions.PlannedRebuildCost"/> per PTO hour; null without hours; without limits where too little has happened.</param>
/// <param name="BestPerHour">The same if every pump were rebuilt at the age that costs least, by the Weibull distribution; null without one.</param>
/// <param name="Remarks">Why something is missing, in sentences.</param>
public sealed record ModelCost(string PumpModel, int Trucks, double HoursH, EstimateWithLimits? PerHour, double? BestPerHour, ImmutableArray<string> Remarks);
