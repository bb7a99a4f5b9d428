namespace Vanehour.Simulator;

/// <summary>How fast a simulated fleet is published.</summary>
public enum PublishPace
{
    /// <summary>As fast as the broker takes it.</summary>
    Fast,

    /// <summary>Each message as long after the first as their instants of sending lie apart.</summary>
    Real,
}
