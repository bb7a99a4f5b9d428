namespace Vanehour.Store.Tests.Influx;

/// <summary>One influxd and one shim for the tests of a class; null where influxd is not installed.</summary>
public sealed class InfluxFixture : IAsyncLifetime
{
    private InfluxDaemon? daemon;
    private InfluxShim? shim;

    /// <summary>The server, or the test is skipped.</summary>
    public InfluxDaemon Daemon
    {
        get
        {
            Skip.If(daemon is null, "influxd is not installed.");
            return daemon!;
        }
    }

    /// <summary>The shim before it, or the test is skipped.</summary>
    public InfluxShim Shim
    {
        get
        {
            Skip.If(shim is null, "influxd is not installed.");
            return shim!;
        }
    }

    public async Task InitializeAsync()
    {
        if (!InfluxDaemon.IsMissing)
        {
            daemon = await InfluxDaemon.StartAsync();
            shim = await InfluxShim.StartAsync(daemon.Url);
        }
    }

    public async Task DisposeAsync()
    {
        if (shim is not null)
        {
            await shim.DisposeAsync();
        }

        if (daemon is not null)
        {
            await daemon.DisposeAsync();
        }
    }
}
