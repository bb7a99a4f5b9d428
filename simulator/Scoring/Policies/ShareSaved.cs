namespace Vanehour.Scoring.Policies;

/// <summary>A share saved; below 0 where more was spent.</summary>
/// <param name="Low">Lower 95 % limit.</param>
/// <param name="Mid">The share.</param>
/// <param name="High">Upper 95 % limit.</param>
public sealed record ShareSaved(double Low, double Mid, double High);
