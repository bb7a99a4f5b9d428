namespace Vanehour.Models.Runs;

/// <summary>What one sample says of the power take-off.</summary>
internal enum Engagement
{
    /// <summary>Nothing: it neither starts nor ends a run.</summary>
    Unknown,

    /// <summary>Not engaged.</summary>
    Off,

    /// <summary>Engaged, by the signal itself.</summary>
    On,

    /// <summary>Engaged, inferred from speed.</summary>
    OnBySpeed,

    /// <summary>Engaged since the meter's previous reading, inferred from its advance.</summary>
    OnByMeter,
}
