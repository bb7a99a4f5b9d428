namespace Vanehour.Reports.Trucks;

/// <summary>The marks that a panel's key explains, drawn as they stand in the panel.</summary>
internal enum KeyMark
{
    /// <summary>Words alone.</summary>
    None,
    Bar,
    Line,
    InkLine,
    DashedLine,
    Band,

    /// <summary>A band with its dashed middle.</summary>
    BandWithMiddle,
    Dot,
    Ring,
    FaintDot,
    FaintRing,
    Diamond,
    Whisker,

    /// <summary>Above or below what is expected.</summary>
    Outside,

    /// <summary>Beyond the ends of the axis.</summary>
    OffScale,
}
