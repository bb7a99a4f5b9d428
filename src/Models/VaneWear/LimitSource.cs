namespace Vanehour.Models.VaneWear;

/// <summary>What the hours to the limit were made of.</summary>
public enum LimitSource
{
    /// <summary>The pump's wear curve alone, fitted with the fleet's.</summary>
    WearCurve,

    /// <summary>The wear curve, weighed against what lives that reached their limit taught; these set the range too.</summary>
    WearCurveAndEndedLives,
}
