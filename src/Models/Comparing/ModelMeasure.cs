using System.Collections.Immutable;
using Vanehour.Models.Survival;

namespace Vanehour.Models.Comparing;

/// <summary>One measure of one pump model, at the fleet's mean load as far as that could be allowed for.</summary>
/// <param name="PumpModel">The model.</param>
/// <param name="Pumps">Trucks whose pumps of that model it comes from.</param>
/// <param name="Value">The usual pump of the model with limits, in the measure's unit; null without a pump, without limits where pumps are too few.</param>
/// <param name="Remarks">Why something is missing, in sentences.</param>
public sealed record ModelMeasure(string PumpModel, int Pumps, EstimateWithLimits? Value, ImmutableArray<string> Remarks);
