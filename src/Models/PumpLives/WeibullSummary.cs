namespace Vanehour.Models.PumpLives;

/// <summary>A fitted Weibull distribution of lives.</summary>
/// <param name="Shape">Above 1: the older, the likelier to fail in the next hour.</param>
/// <param name="ShapeSe">Its standard error.</param>
/// <param name="ScaleH">PTO hours by which 63.2 % have failed, h.</param>
/// <param name="ScaleSe">Its standard error, h.</param>
public sealed record WeibullSummary(double Shape, double ShapeSe, double ScaleH, double ScaleSe);
