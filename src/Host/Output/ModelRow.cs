using System.Collections.Immutable;
using Vanehour.Models.Expectations;
using Vanehour.Models.Regression;

namespace Vanehour.Host.Output;

/// <summary>A fitted model as listed, with the choice behind it.</summary>
/// <param name="Name">What it predicts.</param>
/// <param name="Scope">What it was fitted to.</param>
/// <param name="Method">The method, in a few words.</param>
/// <param name="Status">How the fit ended.</param>
/// <param name="Observations">Observations used.</param>
/// <param name="ResidualScale">Residual standard deviation for weight 1, in the unit of what is predicted.</param>
/// <param name="RSquared">R squared, weighted.</param>
/// <param name="Coefficients">The estimates.</param>
/// <param name="Warnings">What was left out or doubted.</param>
/// <param name="Choice">How the method was chosen over the whole fleet; null for what has no choice.</param>
public sealed record ModelRow(
    string Name,
    string Scope,
    string Method,
    FitStatus Status,
    int Observations,
    double? ResidualScale,
    double? RSquared,
    ImmutableArray<Coefficient> Coefficients,
    ImmutableArray<string> Warnings,
    ModelChoice? Choice)
{
    /// <summary>The row of a fit.</summary>
    public static ModelRow Of(FittedModel model, IEnumerable<ModelChoice> choices)
    {
        ArgumentNullException.ThrowIfNull(model);
        return new ModelRow(
            model.Name,
            model.Scope,
            model.Method,
            model.Status,
            model.Observations,
            model.ResidualScale,
            model.RSquared,
            model.Coefficients,
            model.Warnings,
            choices.FirstOrDefault(c => c.Indicator.ToString() == model.Name));
    }
}
