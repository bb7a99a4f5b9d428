using MathNet.Numerics.LinearAlgebra;

namespace Vanehour.Models.VaneWear;

/// <summary>
/// Symmetric positive definite systems of some ten or twenty unknowns, by Cholesky's factor. By hand because a fleet's fit solves some fifty thousand of them; of A only the lower
/// triangle is read.
/// </summary>
internal static class SmallSystem
{
    private static double[,] Factor(double[,] lower, out double logDeterminant)
    {
        var n = lower.GetLength(0);
        var factor = new double[n, n];
        logDeterminant = 0;
        for (var j = 0; j < n; j++)
        {
            for (var i = j; i < n; i++)
            {
                var sum = lower[i, j];
                for (var k = 0; k < j; k++)
                {
                    sum -= factor[i, k] * factor[j, k];
                }

                factor[i, j] = i == j ? Math.Sqrt(Math.Max(sum, 1e-300)) : sum / factor[j, j];
            }

            logDeterminant += 2 * Math.Log(factor[j, j]);
        }

        return factor;
    }

    /// <summary>Solves A x = b.</summary>
    public static double[] Solve(double[,] information, double[] gradient)
    {
        var factor = Factor(information, out _);
        var n = gradient.Length;
        var x = (double[])gradient.Clone();
        for (var i = 0; i < n; i++)
        {
            for (var k = 0; k < i; k++)
            {
                x[i] -= factor[i, k] * x[k];
            }

            x[i] /= factor[i, i];
        }

        for (var i = n - 1; i >= 0; i--)
        {
            for (var k = i + 1; k < n; k++)
            {
                x[i] -= factor[k, i] * x[k];
            }

            x[i] /= factor[i, i];
        }

        return x;
    }

    /// <summary>The inverse of A, and ln of its determinant.</summary>
    public static Matrix<double> Inverse(double[,] information, out double logDeterminant)
    {
        Factor(information, out logDeterminant);
        var n = information.GetLength(0);
        var matrix = Matrix<double>.Build.Dense(n, n, (i, j) => information[Math.Max(i, j), Math.Min(i, j)]);
        return matrix.Cholesky().Solve(Matrix<double>.Build.DenseIdentity(n));
    }
}
