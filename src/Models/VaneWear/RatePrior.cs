namespace Vanehour.Models.VaneWear;

/// <summary>What is known of a pump's wear rate before its checks: normal, cut off below 0.</summary>
/// <param name="MeanPer1000H">Mean before the cut, wear per 1 000 h.</param>
/// <param name="SdPer1000H">Standard deviation before the cut, above 0.</param>
public sealed record RatePrior(double MeanPer1000H, double SdPer1000H);
