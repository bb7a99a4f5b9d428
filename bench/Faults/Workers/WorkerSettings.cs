using System.Globalization;
using Vanehour.Bench.Faults.Servers;

namespace Vanehour.Bench.Faults.Workers;

/// <summary>How a worker is set up. Waits between attempts are shorter than the defaults, so that a fault is mended within seconds; a machine that is busy must not make a fault where there is none.</summary>
/// <param name="Folder">Its data folder.</param>
/// <param name="ClientId">Its client id.</param>
/// <param name="Share">The name of the shared subscription, or null.</param>
internal sealed record WorkerSettings(string Folder, string ClientId, string? Share = null)
{
    /// <summary>For <see cref="KeepAliveS"/> and <see cref="ConnectTimeoutS"/> where connections go dead without anybody being told.</summary>
    public const int ShortS = 2;

    /// <summary>The longest wait between attempts (default 30 s).</summary>
    public const int RetryLongestS = 2;

    /// <summary>How long a request to the InfluxDB may take (default 30 s).</summary>
    public const int WriteTimeoutS = 10;

    /// <summary>How long a dead connection goes unnoticed (default 30 s).</summary>
    public int KeepAliveS { get; init; } = 30;

    /// <summary>How long a connection attempt may take (default 10 s).</summary>
    public int ConnectTimeoutS { get; init; } = 30;

    /// <summary>The InfluxDB that keeps the samples; null: the data folder does.</summary>
    public string? InfluxUrl { get; init; }

    private string Store => InfluxUrl is null ? string.Empty : string.Create(
        CultureInfo.InvariantCulture,
        $$"""
        , "Store": { "Kind": "Influx", "Influx": {
            "Url": "{{InfluxUrl}}", "Bucket": "{{Influxd.Bucket}}", "WriteTimeout": "00:00:{{WriteTimeoutS:00}}", "RetryLongest": "00:00:{{RetryLongestS:00}}" } }
        """);

    /// <summary>Writes the settings file into the data folder.</summary>
    public void Write()
    {
        Directory.CreateDirectory(Folder);
        File.WriteAllText(Path.Combine(Folder, "vanehour.json"), string.Create(
            CultureInfo.InvariantCulture,
            $$"""
            {"Ingest": {
              "ClientId": "{{ClientId}}",
              "KeepAlive": "00:00:{{KeepAliveS:00}}",
              "ConnectTimeout": "00:00:{{ConnectTimeoutS:00}}",
              "RetryLongest": "00:00:{{RetryLongestS:00}}"
            } {{Store}} }
            """));
    }
}
