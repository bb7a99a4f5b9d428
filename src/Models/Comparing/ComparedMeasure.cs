namespace Vanehour.Models.Comparing;

/// <summary>What pump models are compared by besides their lives.</summary>
public enum ComparedMeasure
{
    /// <summary>Oil used per PTO hour, L/h.</summary>
    OilUse,

    /// <summary>Wear per 1 000 PTO hours; 1 is the limit.</summary>
    Wear,
}
