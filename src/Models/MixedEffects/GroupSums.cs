namespace Vanehour.Models.MixedEffects;

/// <summary>What the deviance needs of one group: the rows, reduced once, however many there were.</summary>
/// <param name="Name">The group.</param>
/// <param name="Observations">Its rows.</param>
/// <param name="Rank">How many random effects its own rows tell apart.</param>
/// <param name="Leading">The first rows, as many as random effects, of the triangle of [Z X y].</param>
internal sealed record GroupSums(string Name, int Observations, int Rank, double[][] Leading);
