namespace Vanehour.Ingest.Payloads;

/// <summary>What a resolved name turned out to mean.</summary>
internal enum NameMatch
{
    /// <summary>A signal of the topic's truck.</summary>
    Signal,

    /// <summary>A metric that the settings leave out.</summary>
    LeftOut,

    /// <summary>A signal, but of another truck than the topic's.</summary>
    OtherTruck,

    /// <summary>Nothing we map.</summary>
    Unknown,
}
