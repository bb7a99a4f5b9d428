using MathNet.Numerics.LinearAlgebra;

namespace Vanehour.Models.MixedEffects;

/// <summary>What goes with one covariance between groups, for scaled columns.</summary>
/// <param name="Effects">Fixed effects.</param>
/// <param name="Covariance">Theirs.</param>
/// <param name="RandomCovariance">Of the random effects between groups.</param>
/// <param name="ResidualScale">Standard deviation of a row about its group.</param>
/// <param name="LogLikelihood">By the criterion.</param>
/// <param name="Predictions">Of each group, with the covariance of prediction less truth.</param>
internal sealed record MixedSolution(
    Vector<double> Effects,
    Matrix<double> Covariance,
    Matrix<double> RandomCovariance,
    double ResidualScale,
    double LogLikelihood,
    IReadOnlyList<(Vector<double> Effects, Matrix<double> Covariance)> Predictions);
