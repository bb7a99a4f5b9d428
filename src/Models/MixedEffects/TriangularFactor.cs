namespace Vanehour.Models.MixedEffects;

/// <summary>
/// The upper triangle R of a QR decomposition that takes its rows one at a time by Givens rotations: R'R is the sum of products of all rows, without squaring their condition.
/// [Golub] G. H. Golub and C. F. Van Loan, Matrix Computations, 1996, section 12.5.3.
/// </summary>
internal sealed class TriangularFactor(int size)
{
    private readonly double[] values = new double[size * size];

    public int Size => size;

    public double this[int row, int column]
    {
        get => values[(row * size) + column];
        set => values[(row * size) + column] = value;
    }

    public ReadOnlySpan<double> Row(int row) => values.AsSpan(row * size, size);

    public void CopyFrom(TriangularFactor other) => other.values.CopyTo(values, 0);

    /// <summary>Takes a row as long as the triangle is wide; the row is used up. The diagonal stays at or above 0.</summary>
    public void Insert(Span<double> row) => Insert(row, size);

    /// <summary>Rotates a row against the first rows of the triangle; what is left of it stays in <paramref name="row"/>.</summary>
    public void Insert(Span<double> row, int rows)
    {
        for (var i = 0; i < rows; i++)
        {
            if (row[i] == 0)
            {
                continue;
            }

            var own = values.AsSpan(i * size, size);
            var length = Math.Sqrt((own[i] * own[i]) + (row[i] * row[i]));
            var (c, s) = (own[i] / length, row[i] / length);
            own[i] = length;
            row[i] = 0;
            for (var j = i + 1; j < size; j++)
            {
                var kept = (c * own[j]) + (s * row[j]);
                row[j] = (c * row[j]) - (s * own[j]);
                own[j] = kept;
            }
        }
    }
}
