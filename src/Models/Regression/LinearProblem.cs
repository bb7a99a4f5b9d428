using System.Collections.Immutable;

namespace Vanehour.Models.Regression;

/// <summary>What to fit: y = X b + e with Var(e_i) = s2 / w_i.</summary>
public sealed record LinearProblem
{
    /// <summary>Names of the columns of X, without the intercept.</summary>
    public required ImmutableArray<string> Columns { get; init; }

    /// <summary>The rows of X, each as long as <see cref="Columns"/>; finite.</summary>
    public required IReadOnlyList<double[]> Rows { get; init; }

    /// <summary>The responses, one for each row; finite.</summary>
    public required IReadOnlyList<double> Responses { get; init; }

    /// <summary>The weights, one for each row, above 0; null counts every row alike.</summary>
    public IReadOnlyList<double>? Weights { get; init; }

    /// <summary>Whether a constant is fitted as the first coefficient; R squared is then about the mean, else about 0.</summary>
    public bool Intercept { get; init; } = true;

    /// <summary>Parameters already taken out of the data, such as the means of groups; they cost degrees of freedom.</summary>
    public int AbsorbedParameters { get; init; }
}
