namespace Vanehour.Models.Planning;

/// <summary>Policies that the lives of a fleet say something of.</summary>
public enum HistoryPolicy
{
    /// <summary>What was done so far.</summary>
    SoFar,

    /// <summary>Nothing is rebuilt before it fails.</summary>
    RunToFailure,

    /// <summary>The age that costs least if nothing but age were known.</summary>
    AgeReplacement,
}
