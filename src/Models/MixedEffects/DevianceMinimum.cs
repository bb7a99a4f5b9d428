using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Optimization;

namespace Vanehour.Models.MixedEffects;

/// <summary>Finds the theta at which a deviance is least: a coarse look, a simplex, then Newton's steps with differences to the last digits.</summary>
internal sealed class DevianceMinimum(MixedDeviance deviance)
{
    // Of the step of differences in theta, which is 1 where groups differ as much as rows do. Fourth-order differences leave about 1e-11 of the deviance's third derivative.
    private const double DifferenceStep = 1e-3;

    // Newton's steps end when the next would win less than this share of the deviance, and are worth nothing when it would still win that much more.
    private const double Settled = 1e-14;
    private const double Unsettled = 1e-8;
    private const int MostSteps = 60;
    private const int MostHalvings = 30;

    // Below it a curvature, beside the largest, is a direction in which theta may turn without a change, as between columns of a singular L.
    private const double Flat = 1e-9;

    // What a singular covariance may cost, as a share of the deviance, to be taken for the better one: it is rounding's.
    private const double BoundaryShare = 1e-12;

    // How small an element of L's diagonal may be, beside the largest of 1 and L, to be tried as 0. A simplex leaves about the root of its accuracy.
    private const double NearBoundary = 1e-3;

    private static readonly double[] FirstLooks = [0.03, 0.1, 0.3, 1, 3, 10, 30, 100];

    /// <summary>Theta at the minimum, whether the covariance is singular there, or null where none was found.</summary>
    public (Vector<double> Theta, bool IsOnBoundary)? Find()
    {
        if (Polish(Simplex(FirstLook())) is not { } peak)
        {
            return null;
        }

        // Kept in Cholesky's form, so that a singular covariance shows as a 0 on the diagonal; each such 0 is tried.
        var lower = Cholesky(deviance.Lower(peak));
        var best = deviance.At(Theta(lower));
        var isOnBoundary = false;
        for (var j = 0; j < lower.RowCount; j++)
        {
            if (lower[j, j] > NearBoundary * Math.Max(1, Theta(lower).AbsoluteMaximum()))
            {
                continue;
            }

            var singular = lower.Clone();
            singular[j, j] = 0;
            if (deviance.At(Theta(singular)) <= best + (BoundaryShare * (1 + Math.Abs(best))))
            {
                (lower, isOnBoundary) = (Cholesky(singular), true);
            }
        }

        return (Theta(lower), isOnBoundary);
    }

    private static Vector<double> Theta(Matrix<double> lower)
    {
        var elements = new List<double>();
        for (var j = 0; j < lower.ColumnCount; j++)
        {
            for (var i = j; i < lower.RowCount; i++)
            {
                elements.Add(lower[i, j]);
            }
        }

        return Vector<double>.Build.Dense([.. elements]);
    }

    /// <summary>L with the same L L', which may be singular, and a diagonal that is not negative.</summary>
    private static Matrix<double> Cholesky(Matrix<double> factor)
    {
        var matrix = factor.TransposeAndMultiply(factor);
        var lower = Matrix<double>.Build.Dense(matrix.RowCount, matrix.RowCount);
        for (var j = 0; j < matrix.RowCount; j++)
        {
            var left = matrix[j, j];
            for (var k = 0; k < j; k++)
            {
                left -= lower[j, k] * lower[j, k];
            }

            lower[j, j] = Math.Sqrt(Math.Max(left, 0));
            for (var i = j + 1; i < matrix.RowCount && lower[j, j] > 0; i++)
            {
                var sum = matrix[i, j];
                for (var k = 0; k < j; k++)
                {
                    sum -= lower[i, k] * lower[j, k];
                }

                lower[i, j] = sum / lower[j, j];
            }
        }

        return lower;
    }

    private static double Finite(double value) => double.IsFinite(value) ? value : double.MaxValue;

    private Vector<double> FirstLook()
    {
        var size = deviance.Lower(Vector<double>.Build.Dense(deviance.ThetaCount)).RowCount;
        return FirstLooks.Select(s => Theta(Matrix<double>.Build.DenseDiagonal(size, size, s))).MinBy(deviance.At)!;
    }

    private Vector<double> Simplex(Vector<double> start)
    {
        try
        {
            var objective = ObjectiveFunction.Value(theta => Finite(deviance.At(theta)));
            var found = NelderMeadSimplex.Minimum(objective, start, Vector<double>.Build.Dense(start.Count, 0.3 * start.AbsoluteMaximum()), 1e-10, 500 * start.Count);
            return found.MinimizingPoint;
        }
        catch (OptimizationException)
        {
            // The simplex did not come to rest; Newton's steps go on from the first look and say whether they did.
            return start;
        }
    }

    private Vector<double>? Polish(Vector<double> start)
    {
        var at = start;
        var now = deviance.At(at);
        for (var step = 0; step < MostSteps && double.IsFinite(now); step++)
        {
            var (move, gain) = Newton(at);
            if (gain <= Settled * (1 + Math.Abs(now)))
            {
                return at;
            }

            var share = 1.0;
            var next = at;
            var there = double.PositiveInfinity;
            for (var halving = 0; halving < MostHalvings && !(there < now); halving++, share /= 2)
            {
                next = at + (share * move);
                there = deviance.At(next);
            }

            if (!(there < now))
            {
                return gain <= Unsettled * (1 + Math.Abs(now)) ? at : null;
            }

            (at, now) = (next, there);
        }

        return null;
    }

    /// <summary>A step downhill, and what it would win if the deviance were quadratic.</summary>
    private (Vector<double> Move, double Gain) Newton(Vector<double> at)
    {
        var count = at.Count;
        var steps = at.Map(t => DifferenceStep * Math.Max(Math.Abs(t), 0.1));
        var here = deviance.At(at);
        var gradient = Vector<double>.Build.Dense(count);
        var curvature = Matrix<double>.Build.Dense(count, count);
        for (var i = 0; i < count; i++)
        {
            var (near, far) = (Moved(i, 1) + Moved(i, -1), Moved(i, 2) + Moved(i, -2));
            gradient[i] = ((8 * (Moved(i, 1) - Moved(i, -1))) - (Moved(i, 2) - Moved(i, -2))) / (12 * steps[i]);
            curvature[i, i] = ((16 * near) - far - (30 * here)) / (12 * steps[i] * steps[i]);
            for (var j = 0; j < i; j++)
            {
                curvature[i, j] = (Both(i, j, 1, 1) - Both(i, j, 1, -1) - Both(i, j, -1, 1) + Both(i, j, -1, -1)) / (4 * steps[i] * steps[j]);
                curvature[j, i] = curvature[i, j];
            }
        }

        var parts = curvature.Evd(Symmetricity.Symmetric);
        var largest = parts.EigenValues.Enumerate().Max(v => Math.Abs(v.Real));
        var along = parts.EigenVectors.TransposeThisAndMultiply(gradient);
        var gain = 0.0;
        for (var i = 0; i < count; i++)
        {
            var bend = Math.Abs(parts.EigenValues[i].Real);
            var share = bend > Flat * largest ? along[i] / bend : 0;
            gain += along[i] * share / 2;
            along[i] = -share;
        }

        return (parts.EigenVectors * along, gain);

        double Moved(int i, int times) => Both(i, i, times, 0);

        double Both(int i, int j, int first, int second)
        {
            var moved = at.Clone();
            moved[i] += first * steps[i];
            moved[j] += second * steps[j];
            return deviance.At(moved);
        }
    }
}
