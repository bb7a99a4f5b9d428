using Vanehour.Store.Influx;

namespace Vanehour.Store.Tests.Influx;

/// <summary>The server that VANEHOUR_INFLUX_URL, _ORG, _BUCKET and _TOKEN name, of whatever version.</summary>
internal static class NamedServer
{
    public const string WhyNot = "VANEHOUR_INFLUX_URL and VANEHOUR_INFLUX_BUCKET name no server to test with.";

    /// <summary>Its settings, with a measurement of their own; or the test is skipped.</summary>
    public static InfluxOptions Options(DataFolder folder)
    {
        var url = Environment.GetEnvironmentVariable("VANEHOUR_INFLUX_URL");
        var bucket = Environment.GetEnvironmentVariable("VANEHOUR_INFLUX_BUCKET");
        Skip.If(string.IsNullOrEmpty(url) || string.IsNullOrEmpty(bucket), WhyNot);
        var options = new InfluxOptions
        {
            Url = url!,
            Bucket = bucket!,
            Org = Environment.GetEnvironmentVariable("VANEHOUR_INFLUX_ORG"),
            Measurement = "vanehour_test_" + Guid.NewGuid().ToString("N"),
        };
        if (Environment.GetEnvironmentVariable("VANEHOUR_INFLUX_TOKEN") is { Length: > 0 } token)
        {
            options.TokenFile = folder.File("token");
            File.WriteAllText(options.TokenFile, token);
        }

        return options;
    }

    /// <summary>Removes what a test made there, where the server knows how.</summary>
    public static async Task RemoveAsync(InfluxOptions options)
    {
        using var connection = new InfluxConnection(options);
        try
        {
            await connection.ExecuteAsync($"DROP MEASUREMENT {InfluxQl.Identifier(options.Measurement)}", CancellationToken.None);
        }
        catch (InfluxException)
        {
            // It knows no DROP: the measurement stays, in a bucket that was named for tests.
        }
    }
}
