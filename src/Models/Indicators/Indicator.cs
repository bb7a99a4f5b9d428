namespace Vanehour.Models.Indicators;

/// <summary>A quantity of a run that is compared with what is expected of it.</summary>
public enum Indicator
{
    /// <summary>Oil used per PTO hour, L/h.</summary>
    OilUse,

    /// <summary>Pump temperature over ambient, K.</summary>
    TemperatureRise,

    /// <summary>How far readings of the pump temperature lie off the line between their neighbours, K.</summary>
    TemperatureHunting,
}
