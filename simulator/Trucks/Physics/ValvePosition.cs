namespace Vanehour.Simulator.Physics;

/// <summary>Where the four-way valve stands.</summary>
internal enum ValvePosition
{
    /// <summary>The pump draws from the tank and blows to the open air.</summary>
    Vacuum,

    /// <summary>The pump draws and blows open air; the tank is shut off from it.</summary>
    Neutral,

    /// <summary>The pump draws open air and blows into the tank.</summary>
    Pressure,
}
