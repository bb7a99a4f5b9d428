namespace Vanehour.Scoring.Policies;

/// <summary>The policies that are compared.</summary>
public enum PolicyName
{
    /// <summary>Nothing is rebuilt before it fails.</summary>
    RunToFailure,

    /// <summary>The best fixed interval for the whole fleet, found with hindsight.</summary>
    FixedInterval,

    /// <summary>The best fixed interval for the whole fleet at which at most a tenth of the pumps goes past the maker's limit, found with hindsight.</summary>
    FixedIntervalInLimit,

    /// <summary>The best fixed interval for each pump model, found with hindsight.</summary>
    FixedIntervalByModel,

    /// <summary>The age that costs least by the Weibull distributions of lives before the first day.</summary>
    AgeReplacement,

    /// <summary>Vanes are looked at every month, and rebuilt at the maker's least width; the looking itself is not priced.</summary>
    MonthlyInspection,

    /// <summary>The plan.</summary>
    Plan,
}
