namespace Vanehour.Models.Planning;

/// <summary>What the chances of a pump rest on.</summary>
public enum RiskBasis
{
    /// <summary>Its wear forecast.</summary>
    WearForecast,

    /// <summary>Its hours alone against what pumps of its model usually do: there is no wear forecast.</summary>
    HoursAlone,
}
