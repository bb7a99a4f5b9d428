using Vanehour.Fleet.Runs;

namespace Vanehour.Models.Indicators;

/// <summary>A condition of a run that an indicator depends on.</summary>
/// <param name="Name">What it is, as it goes into sentences, for example "vacuum".</param>
/// <param name="Unit">Its unit's symbol.</param>
/// <param name="Value">Reads it from a run; null where it was not measured.</param>
public sealed record Predictor(string Name, string Unit, Func<Run, double?> Value);
