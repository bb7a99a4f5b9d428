namespace Vanehour.Models.Regression;

/// <summary>How a fit ended.</summary>
public enum FitStatus
{
    Converged,

    /// <summary>The method did not converge.</summary>
    Failed,

    /// <summary>The data cannot identify the model: too few, or collinear.</summary>
    Degenerate,
}
