using System.Globalization;
using System.Text;

namespace Vanehour.Store.Influx;

/// <summary>Looks whether a server can be used: reached, an InfluxDB, the token good, the bucket there, to be read and written. Changes nothing on it.</summary>
public sealed class InfluxCheck(InfluxConnection connection)
{
    // Long enough for a server that is just starting, short enough for a person at the terminal; the settings' deadlines where they are shorter.
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(10);

    /// <summary>Makes every check.</summary>
    /// <returns>What the server says it is, for people to read.</returns>
    /// <exception cref="InfluxException">It cannot be used; the message says what to fix.</exception>
    public async Task<string> RunAsync(CancellationToken cancellationToken)
    {
        var version = await ReachAsync(cancellationToken);
        await ReadAsync(cancellationToken);
        await WriteAsync(cancellationToken);
        return version;
    }

    /// <summary>Whether an InfluxDB answers; its version.</summary>
    /// <exception cref="InfluxException">None does.</exception>
    public async Task<string> ReachAsync(CancellationToken cancellationToken)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, "ping");
        return await connection.SendAsync(
            request,
            Shortest(connection.Options.ReadTimeout),
            async (response, token) =>
            {
                var status = (int)response.StatusCode;
                if (status is 401 or 403 or 429 or >= 500)
                {
                    throw await connection.RefusalAsync(response, token);
                }

                // All versions name themselves in a header, 3 in the body too.
                if (response.Headers.TryGetValues("X-Influxdb-Version", out var values))
                {
                    return values.First();
                }

                var body = await response.Content.ReadAsStringAsync(token);
                return status == 200 && body.Contains("\"version\"", StringComparison.Ordinal)
                    ? body.Trim()
                    : throw InfluxSentences.NotInflux(
                        connection.Options, string.Create(CultureInfo.InvariantCulture, $"it answered /ping with {status} and no X-Influxdb-Version"));
            },
            cancellationToken);
    }

    /// <summary>Whether the bucket can be read.</summary>
    /// <exception cref="InfluxException">It cannot.</exception>
    public Task ReadAsync(CancellationToken cancellationToken) => connection.QueryAsync(
        $"SELECT \"pto_hours\" FROM {InfluxQl.Identifier(connection.Options.Measurement)} LIMIT 1", static _ => { }, cancellationToken);

    /// <summary>Whether the bucket can be written.</summary>
    /// <exception cref="InfluxException">It cannot.</exception>
    public async Task WriteAsync(CancellationToken cancellationToken)
    {
        var options = connection.Options;
        var path = $"api/v2/write?org={Uri.EscapeDataString(options.Org ?? "-")}&bucket={Uri.EscapeDataString(options.Bucket)}&precision=ms";

        // A comment of line protocol: token and bucket are looked at, and nothing is written.
        using var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = new StringContent("# vanehour asks whether it may write\n", Encoding.UTF8, "text/plain") };
        await connection.SendAsync(
            request,
            Shortest(options.WriteTimeout),
            async (response, token) =>
            {
                var status = (int)response.StatusCode;

                // A server may say that there is nothing in the request: then it has got that far.
                return status is (>= 200 and < 300) or 400 or 422 ? true : throw await connection.RefusalAsync(response, token);
            },
            cancellationToken);
    }

    private static TimeSpan Shortest(TimeSpan timeout) => timeout < Longest ? timeout : Longest;
}
