namespace Vanehour.Scoring.Drills;

/// <summary>An indicator of the truck as it was before and as it is at the end of the data: medians over runs or start-up checks.</summary>
/// <param name="Name">What was measured, in words.</param>
/// <param name="Unit">Its unit; 1 for a ratio.</param>
/// <param name="Before">Before it began, or in the first half of the data where nothing began.</param>
/// <param name="After">In the last three weeks, or since it was fully grown where that is less.</param>
/// <param name="OthersChangePercent">By how much it changed on the other trucks meanwhile, median, per cent; null where unknown.</param>
public sealed record DrillMeasure(string Name, string Unit, double Before, double After, double? OthersChangePercent);
