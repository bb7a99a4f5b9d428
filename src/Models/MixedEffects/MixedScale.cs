using MathNet.Numerics.LinearAlgebra;

namespace Vanehour.Models.MixedEffects;

/// <summary>Columns brought to mean 0, where there is a constant to take the shift, and to length 1 in the root mean square; and the way back.</summary>
internal sealed class MixedScale
{
    private readonly MixedProblem problem;
    private readonly double[] means;
    private readonly double[] lengths;
    private readonly double[] rootMeanSquares;

    public MixedScale(MixedProblem problem)
    {
        this.problem = problem;
        var p = problem.Columns.Length;
        double n = problem.Rows.Count;
        means = new double[p];
        lengths = new double[p];
        rootMeanSquares = new double[p];
        foreach (var row in problem.Rows)
        {
            for (var j = 0; j < p; j++)
            {
                means[j] += row[j] / n;
            }
        }

        foreach (var row in problem.Rows)
        {
            for (var j = 0; j < p; j++)
            {
                lengths[j] += (row[j] - means[j]) * (row[j] - means[j]) / n;
                rootMeanSquares[j] += row[j] * row[j] / n;
            }
        }

        for (var j = 0; j < p; j++)
        {
            (lengths[j], rootMeanSquares[j]) = (Math.Sqrt(lengths[j]), Math.Sqrt(rootMeanSquares[j]));
        }
    }

    private int FixedConstants => problem.Intercept ? 1 : 0;

    private int RandomConstants => problem.RandomIntercept ? 1 : 0;

    public int FixedCount => problem.Columns.Length + FixedConstants;

    public int RandomCount => problem.RandomSlopes.Length + RandomConstants;

    /// <summary>What the logarithm of the determinant of the triangle of X gains when the columns are put back to their own lengths.</summary>
    public double LogDeterminant => Enumerable.Range(0, problem.Columns.Length).Sum(j => Math.Log(Length(j, problem.Intercept)));

    /// <summary>Writes [Z X] of a row, scaled.</summary>
    public void Fill(double[] row, Span<double> scaled)
    {
        var at = 0;
        if (problem.RandomIntercept)
        {
            scaled[at++] = 1;
        }

        foreach (var j in problem.RandomSlopes)
        {
            scaled[at++] = Scaled(row[j], j, problem.RandomIntercept);
        }

        if (problem.Intercept)
        {
            scaled[at++] = 1;
        }

        for (var j = 0; j < row.Length; j++)
        {
            scaled[at++] = Scaled(row[j], j, problem.Intercept);
        }
    }

    /// <summary>Turns fixed effects of scaled columns into those of the columns.</summary>
    public Matrix<double> FixedBack() => Back(FixedConstants, [.. Enumerable.Range(0, problem.Columns.Length)]);

    /// <summary>Turns random effects of scaled columns into those of the columns.</summary>
    public Matrix<double> RandomBack() => Back(RandomConstants, [.. problem.RandomSlopes]);

    private double Length(int column, bool centred) => centred ? lengths[column] : rootMeanSquares[column];

    private double Scaled(double value, int column, bool centred) => (value - (centred ? means[column] : 0)) / Length(column, centred);

    private Matrix<double> Back(int constants, int[] columns)
    {
        var back = Matrix<double>.Build.Dense(columns.Length + constants, columns.Length + constants);
        for (var i = 0; i < columns.Length; i++)
        {
            var length = Length(columns[i], constants == 1);
            back[i + constants, i + constants] = 1 / length;
            if (constants == 1)
            {
                back[0, i + 1] = -means[columns[i]] / length;
            }
        }

        if (constants == 1)
        {
            back[0, 0] = 1;
        }

        return back;
    }
}
