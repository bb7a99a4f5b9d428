using System.Collections.Immutable;

namespace Vanehour.Fleet.Import;

/// <summary>One record of a CSV file.</summary>
/// <param name="Line">The line it starts on, counted from 1.</param>
/// <param name="Fields">Its fields, unquoted.</param>
public sealed record CsvRow(int Line, ImmutableArray<string> Fields);
