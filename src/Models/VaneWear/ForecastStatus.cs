namespace Vanehour.Models.VaneWear;

/// <summary>What a wear forecast rests on.</summary>
public enum ForecastStatus
{
    /// <summary>A forecast against a baseline learned from this pump on this truck.</summary>
    Forecast,

    /// <summary>A forecast against a baseline taken from the pump model, with its spread.</summary>
    Provisional,

    /// <summary>The limit is not reached inside the horizon.</summary>
    NotReached,

    /// <summary>Too few start-up checks to fit.</summary>
    TooFewChecks,

    /// <summary>No start-up check at all in this life.</summary>
    NoChecks,
}
