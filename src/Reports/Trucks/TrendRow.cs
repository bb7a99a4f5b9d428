namespace Vanehour.Reports.Trucks;

/// <summary>The values of one day, week or month on a truck's page.</summary>
/// <param name="From">Its first day, in words.</param>
/// <param name="Left">Where it begins on the page, layout units from the left.</param>
/// <param name="Right">Where it ends, layout units from the left.</param>
/// <param name="Values">The values as people read them, one for each column; empty where nothing was measured.</param>
public sealed record TrendRow(string From, double Left, double Right, IReadOnlyList<string> Values);
