namespace Vanehour.Simulator.Sensors;

/// <summary>Which signals a sample carries.</summary>
internal enum ReadingScope
{
    /// <summary>Engagement and vacuum, or pressure while off-loading.</summary>
    Fast,

    /// <summary>Fast, and speed: while the vacuum rises.</summary>
    Rising,

    /// <summary>Everything the truck has.</summary>
    Full,
}
