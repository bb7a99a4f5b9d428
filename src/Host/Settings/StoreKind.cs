namespace Vanehour.Host.Settings;

/// <summary>Where samples are kept.</summary>
public enum StoreKind
{
    /// <summary>In samples.db in the data folder.</summary>
    Sqlite,

    /// <summary>In an InfluxDB; samples.db is the outbox before it.</summary>
    Influx,
}
