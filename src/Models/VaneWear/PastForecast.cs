namespace Vanehour.Models.VaneWear;

/// <summary>What was said of hours to the limit at an age of a life, and what came true.</summary>
/// <param name="Life">The life.</param>
/// <param name="AgeH">Hours since fitting then, h.</param>
/// <param name="P10">10 % quantile by the wear curve, h.</param>
/// <param name="P50">Median by the wear curve, h.</param>
/// <param name="P90">90 % quantile by the wear curve, h; may be infinite.</param>
/// <param name="Learned">By a learner that had not learned from this life, no more than the cap, h.</param>
/// <param name="CameTrueH">Hours that were left, h; or, of a life that has not come to its limit, that have passed since.</param>
/// <param name="HasEnded">Whether the limit was reached.</param>
internal sealed record PastForecast(string Life, double AgeH, double P10, double P50, double P90, double Learned, double CameTrueH, bool HasEnded);
