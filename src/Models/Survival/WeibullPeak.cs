using MathNet.Numerics.LinearAlgebra;

namespace Vanehour.Models.Survival;

/// <summary>Where the likelihood is highest.</summary>
/// <param name="Parameters">The coefficients, and log s last.</param>
/// <param name="LogLikelihood">Its logarithm there.</param>
/// <param name="Information">The negative Hessian there, of all parameters.</param>
internal sealed record WeibullPeak(Vector<double> Parameters, double LogLikelihood, Matrix<double> Information);
