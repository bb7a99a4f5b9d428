using Vanehour.Reports.Trucks;

namespace Vanehour.Board.Reading;

/// <summary>A chart as a page holds it.</summary>
/// <param name="Title">What it is of.</param>
/// <param name="Alternative">What it shows, in words.</param>
/// <param name="Svg">The drawing, for the page itself.</param>
/// <param name="Trend">The numbers behind it, where it is a truck's; null elsewhere.</param>
public sealed record DrawnChart(string Title, string Alternative, string Svg, TruckTrend? Trend = null);
