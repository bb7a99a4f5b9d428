namespace Vanehour.Models.Regression;

/// <summary>A model of one explanatory variable, y = f(x; parameters).</summary>
/// <param name="parameters">The parameters, in the order of the starting values.</param>
/// <param name="x">The explanatory variable.</param>
/// <returns>The model's value; NaN or infinite where the parameters make no sense.</returns>
public delegate double NonlinearFunction(ReadOnlySpan<double> parameters, double x);
