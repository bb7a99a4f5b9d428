namespace Vanehour.Simulator.Randomness;

/// <summary>What a stream of random numbers is for. Streams are independent, so that drawing more of one leaves the others alone.</summary>
internal enum RandomStream
{
    Identity = 1,
    Duty = 2,
    Physics = 3,
    Sensors = 4,
    Wear = 5,
    Service = 6,
    Weather = 7,
    Calendar = 8,
    Crew = 9,
    History = 10,
    Gateway = 11,
    Uplink = 12,
    Meter = 13,
}
