namespace Vanehour.Models.Regression;

/// <summary>The partial derivatives of a <see cref="NonlinearFunction"/> with respect to its parameters.</summary>
/// <param name="parameters">The parameters, in the order of the starting values.</param>
/// <param name="x">The explanatory variable.</param>
/// <param name="gradient">Filled with one derivative for each parameter.</param>
public delegate void NonlinearGradient(ReadOnlySpan<double> parameters, double x, Span<double> gradient);
