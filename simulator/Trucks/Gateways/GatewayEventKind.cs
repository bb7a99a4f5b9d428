namespace Vanehour.Simulator;

/// <summary>What a truck's gateway, its sensors' wiring or its meter did to the telemetry. The names stand in the truth file.</summary>
public enum GatewayEventKind
{
    /// <summary>One signal of one sample jumped to the end of its sensor's range.</summary>
    Spike,

    /// <summary>One signal of one sample is missing.</summary>
    DropOut,

    /// <summary>One sensor showed the same for minutes to hours.</summary>
    Stuck,

    /// <summary>The gateway started anew and lost the samples of the last 30 to 300 s.</summary>
    Reboot,

    /// <summary>Hours without coverage; what was gathered went out in one burst at the end.</summary>
    NoCoverage,

    /// <summary>A message was sent twice.</summary>
    Duplicate,

    /// <summary>The gateway's clock ran some minutes fast or slow, for days.</summary>
    ClockWrong,

    /// <summary>The hour meter passed 9999.9 h and went on from 0.</summary>
    MeterRollOver,

    /// <summary>The hour meter was replaced.</summary>
    MeterReplaced,

    /// <summary>The gateway was swapped, and one signal comes in another unit from then on.</summary>
    UnitChanged,
}
