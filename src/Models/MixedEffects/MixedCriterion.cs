namespace Vanehour.Models.MixedEffects;

/// <summary>What a mixed model's variances are estimated by.</summary>
public enum MixedCriterion
{
    /// <summary>Restricted maximum likelihood: the variances do not pay for the fixed effects. Likelihoods compare only between fits with the same fixed effects.</summary>
    Reml,

    /// <summary>Maximum likelihood: variances come out somewhat small; likelihoods compare between any fits to the same rows.</summary>
    Ml,
}
