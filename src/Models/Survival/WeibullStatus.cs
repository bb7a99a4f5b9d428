namespace Vanehour.Models.Survival;

/// <summary>Whether a Weibull distribution could be fitted.</summary>
public enum WeibullStatus
{
    /// <summary>It was.</summary>
    Fitted,

    /// <summary>There are no units.</summary>
    NoUnits,

    /// <summary>Nothing has failed.</summary>
    NoFailures,

    /// <summary>All failed at one age, or may have by when they were found, and nothing lasted longer: the steeper the distribution the likelier, without end.</summary>
    AllFailuresAtOnce,

    /// <summary>The likelihood has no peak that the data hold, as when late entries leave nothing to tell, all were inspected at one age, or covariates say the same.</summary>
    NotIdentified,
}
