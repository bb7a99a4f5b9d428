using System.Collections.Immutable;
using Vanehour.Models.Regression;

namespace Vanehour.Models.MixedEffects;

/// <summary>What is predicted of one group (best linear unbiased prediction), as a difference from the fixed effects.</summary>
/// <param name="Group">The group.</param>
/// <param name="Observations">Its rows.</param>
/// <param name="Effects">
/// Its random effects in the order of <see cref="MixedFit.RandomNames"/>. The standard error is of prediction less truth, with the error of the fixed effects in it
/// but not that of the variances: [Henderson] C. R. Henderson, Best Linear Unbiased Estimation and Prediction under a Selection Model, Biometrics 31, 1975.
/// Other programs also print the smaller one that takes the fixed effects as known.
/// </param>
public sealed record GroupEffect(string Group, int Observations, ImmutableArray<Coefficient> Effects);
