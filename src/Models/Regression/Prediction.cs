namespace Vanehour.Models.Regression;

/// <summary>A prediction of one new observation, with its interval, in the unit of the response.</summary>
/// <param name="Mean">The expectation.</param>
/// <param name="StandardError">Standard deviation of the new observation about <paramref name="Mean"/>, its own noise and the fit's error together.</param>
/// <param name="Low">Lower end of the interval.</param>
/// <param name="High">Upper end of the interval.</param>
public sealed record Prediction(double Mean, double StandardError, double Low, double High);
