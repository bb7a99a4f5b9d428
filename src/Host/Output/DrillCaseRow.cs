namespace Vanehour.Host.Output;

/// <summary>A case of the drills as anybody may see it.</summary>
/// <param name="Number">Its place in the table, 1 for the first; 'drill new' takes it.</param>
/// <param name="Difficulty">1 to 3.</param>
/// <param name="Title">The symptom.</param>
/// <param name="NamesTruck">Whether the driver names the truck.</param>
public sealed record DrillCaseRow(int Number, int Difficulty, string Title, bool NamesTruck);
