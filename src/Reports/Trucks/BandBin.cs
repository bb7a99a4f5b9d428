namespace Vanehour.Reports.Trucks;

/// <summary>The runs of one day, week or month: hour-weighted means of what was seen and of the band.</summary>
internal sealed record BandBin(DateTime Start, double Seen, double? Low, double? Mid, double? High);
