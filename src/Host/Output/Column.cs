namespace Vanehour.Host.Output;

/// <summary>A column of a listing.</summary>
/// <typeparam name="T">What a row shows.</typeparam>
/// <param name="Name">The name in CSV, with the unit as its end.</param>
/// <param name="Heading">The heading for people, with the unit.</param>
/// <param name="Value">The value: text, number, instant, truth value or null.</param>
/// <param name="Format">How people see a number, as in .NET format strings.</param>
/// <param name="Rank">0: always shown; else a window that is too narrow leaves out the highest rank first.</param>
public sealed record Column<T>(string Name, string Heading, Func<T, object?> Value, string? Format = null, int Rank = 0);
