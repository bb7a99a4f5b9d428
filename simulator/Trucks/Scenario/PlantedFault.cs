using Vanehour.Fleet;

namespace Vanehour.Simulator;

/// <summary>One fault on one truck of a fleet that is healthy otherwise, as a drill wants it.</summary>
/// <param name="Truck">Which truck, 0 for the first.</param>
/// <param name="Cause">What is wrong. <see cref="Cause.VanesWorn"/> is no fault: the truck's vanes are then so old that they reach their limit some weeks after the end, and onset, growth and severity say nothing.</param>
/// <param name="OnsetDay">Days after the first day on which it begins, 0 to the last.</param>
/// <param name="GrowthDays">Days from the onset to full severity, 0 to 3 650; 0 is a step.</param>
/// <param name="Severity">Full severity, above 0, at most 1.</param>
/// <param name="Variant">Which of the ways in which a cause can show, 0 or more; a sensor has three: gauge shows too little, gauge stuck, temperature shows too little.</param>
public sealed record PlantedFault(int Truck, Cause Cause, int OnsetDay, int GrowthDays, double Severity, int Variant = 0);
