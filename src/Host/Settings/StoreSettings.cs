using Vanehour.Store.Influx;

namespace Vanehour.Host.Settings;

/// <summary>Where samples are kept.</summary>
public sealed class StoreSettings
{
    /// <summary>The section's name.</summary>
    public const string Section = "Store";

    /// <summary>Sqlite or Influx.</summary>
    public StoreKind Kind { get; set; } = StoreKind.Sqlite;

    /// <summary>The InfluxDB; looked at when <see cref="Kind"/> is Influx.</summary>
    public InfluxOptions Influx { get; set; } = new();
}
