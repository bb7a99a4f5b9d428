using System.Globalization;
using System.Net;
using System.Text.Json;
using InfluxDB.Client;
using InfluxDB.Client.Api.Domain;
using InfluxDB.Client.Core.Exceptions;

namespace Vanehour.Store.Influx;

/// <summary>
/// One client for one InfluxDB. Writing goes through InfluxDB.Client, reading over InfluxQL, which 1.8, 2 and 3 all serve. Every request has
/// a deadline of its own from the first byte sent to the last received; whatever goes wrong comes out as <see cref="InfluxException"/>.
/// </summary>
public sealed class InfluxConnection : IDisposable
{
    private readonly HttpClient http;
    private readonly InfluxDBClient client;
    private readonly WriteApiAsync writes;

    /// <summary>A connection; nothing is sent yet.</summary>
    /// <exception cref="ArgumentException">The settings are not sound.</exception>
    public InfluxConnection(InfluxOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        if (options.Problems() is { Count: > 0 } problems)
        {
            throw new ArgumentException(string.Join(' ', problems), nameof(options));
        }

        Options = options;
        HttpMessageHandler handler = new SocketsHttpHandler { AllowAutoRedirect = false, PooledConnectionLifetime = TimeSpan.FromMinutes(10) };
        if (options.TokenFile is { } tokenFile)
        {
            handler = new TokenHandler(tokenFile, handler);
        }

        handler = new WrittenHandler(handler);
        http = new HttpClient(handler) { BaseAddress = new Uri(options.Root + "/"), Timeout = Timeout.InfiniteTimeSpan };
        client = new InfluxDBClient(new InfluxDBClientOptions(options.Root) { HttpClient = http, Timeout = Timeout.InfiniteTimeSpan });
        writes = client.GetWriteApiAsync();
    }

    /// <summary>The settings.</summary>
    public InfluxOptions Options { get; }

    // The client insists on a name; servers without organisations ignore it.
    private string Org => string.IsNullOrEmpty(Options.Org) ? "-" : Options.Org;

    /// <inheritdoc/>
    public void Dispose()
    {
        client.Dispose();
        http.Dispose();
    }

    /// <summary>Writes lines, once, without trying again.</summary>
    /// <exception cref="InfluxException">They were not all written.</exception>
    internal async Task WriteAsync(string lines, CancellationToken cancellationToken)
    {
        using var deadline = Deadline(Options.WriteTimeout, cancellationToken);
        try
        {
            // WaitAsync besides the token: the deadline holds whatever the library does with it.
            await writes.WriteRecordAsync(lines, WritePrecision.Ms, Options.Bucket, Org, deadline.Token).WaitAsync(deadline.Token);
        }
        catch (HttpException e)
        {
            cancellationToken.ThrowIfCancellationRequested();
            if (deadline.IsCancellationRequested)
            {
                throw TimedOut(Options.WriteTimeout, e);
            }

            throw InfluxSentences.Of(
                Options, e.Status, e.Message, e.RetryAfter is { } seconds ? TimeSpan.FromSeconds(seconds) : null, e);
        }
        catch (OperationCanceledException e) when (!cancellationToken.IsCancellationRequested)
        {
            throw TimedOut(Options.WriteTimeout, e);
        }
    }

    /// <summary>Asks by InfluxQL and reads the whole answer as CSV, row by row.</summary>
    /// <remarks>
    /// InfluxDB 1 leaves the error of a statement out of its CSV, so that a missing database or a query that took too long comes as an empty answer with the
    /// status 200. An answer without a single line is therefore asked for once more as JSON, which has the error.
    /// </remarks>
    /// <param name="query">The statement.</param>
    /// <param name="row">Takes a row; the first row names the columns.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <exception cref="InfluxException">There was no answer, or not a whole one.</exception>
    internal async Task QueryAsync(string query, Action<CsvRow> row, CancellationToken cancellationToken)
    {
        var isEmpty = true;
        await AskAsync(
            HttpMethod.Get,
            query,
            "application/csv",
            async (body, token) =>
            {
                using var reader = new StreamReader(body);
                await CsvAnswer.ReadAsync(
                    reader,
                    r =>
                    {
                        isEmpty = false;
                        row(r);
                    },
                    message => Refusal(400, message),
                    token);
            },
            cancellationToken);
        if (isEmpty)
        {
            await AskAsync(HttpMethod.Get, query, "application/json", FindErrorAsync, cancellationToken);
        }
    }

    /// <summary>Runs a statement that changes something.</summary>
    /// <exception cref="InfluxException">It was refused.</exception>
    internal Task ExecuteAsync(string statement, CancellationToken cancellationToken) =>
        AskAsync(HttpMethod.Post, statement, "application/json", FindErrorAsync, cancellationToken);

    /// <summary>Asks for a path and hands over the answer whatever its status.</summary>
    /// <exception cref="InfluxException">There was no answer.</exception>
    internal async Task<T> SendAsync<T>(HttpRequestMessage request, TimeSpan timeout, Func<HttpResponseMessage, CancellationToken, Task<T>> read, CancellationToken cancellationToken)
    {
        using var deadline = Deadline(timeout, cancellationToken);
        try
        {
            using var response = await http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, deadline.Token);
            return await read(response, deadline.Token);
        }
        catch (OperationCanceledException e) when (!cancellationToken.IsCancellationRequested)
        {
            throw TimedOut(timeout, e);
        }
        catch (FormatException)
        {
            throw InfluxSentences.NotInflux(Options, "its answer cannot be read");
        }
        catch (Exception e) when (e is HttpRequestException or IOException)
        {
            throw InfluxSentences.Of(Options, 0, e.Message, inner: e);
        }
    }

    /// <summary>The exception for an answer that is not 2xx.</summary>
    internal async Task<InfluxException> RefusalAsync(HttpResponseMessage response, CancellationToken cancellationToken)
    {
        var body = await response.Content.ReadAsStringAsync(cancellationToken);
        return Refusal((int)response.StatusCode, MessageOf(body), response.Headers.RetryAfter?.Delta);
    }

    /// <summary>An answer's own word for a database it does not have, whatever status it came with.</summary>
    internal InfluxException Refusal(int status, string message, TimeSpan? retryAfter = null)
    {
        var isMissing = message.Contains("database not found", StringComparison.OrdinalIgnoreCase) || message.Contains("dbrp mapping", StringComparison.OrdinalIgnoreCase);
        return InfluxSentences.Of(Options, isMissing ? 404 : status, message, retryAfter);
    }

    private static string MessageOf(string body)
    {
        try
        {
            using var json = JsonDocument.Parse(body);
            foreach (var name in new[] { "message", "error" })
            {
                if (json.RootElement.ValueKind == JsonValueKind.Object && json.RootElement.TryGetProperty(name, out var message) && message.ValueKind == JsonValueKind.String)
                {
                    return message.GetString()!;
                }
            }
        }
        catch (JsonException)
        {
            // A proxy speaks HTML; what it says is better than nothing.
        }

        return body;
    }

    private static CancellationTokenSource Deadline(TimeSpan timeout, CancellationToken cancellationToken)
    {
        var source = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        source.CancelAfter(timeout);
        return source;
    }

    private InfluxException TimedOut(TimeSpan after, Exception inner) =>
        InfluxSentences.Of(Options, 0, string.Create(CultureInfo.InvariantCulture, $"no answer within {after.TotalSeconds:0.#} s"), inner: inner);

    private async Task FindErrorAsync(Stream body, CancellationToken cancellationToken)
    {
        JsonDocument json;
        try
        {
            json = await JsonDocument.ParseAsync(body, default, cancellationToken);
        }
        catch (JsonException)
        {
            throw InfluxSentences.NotInflux(Options, "its answer is not JSON");
        }

        using (json)
        {
            if (json.RootElement.ValueKind == JsonValueKind.Object
                && json.RootElement.TryGetProperty("results", out var results) && results.ValueKind == JsonValueKind.Array)
            {
                foreach (var result in results.EnumerateArray())
                {
                    if (result.TryGetProperty("error", out var error))
                    {
                        throw Refusal(400, error.ToString());
                    }
                }
            }
        }
    }

    private async Task AskAsync(HttpMethod method, string query, string accept, Func<Stream, CancellationToken, Task> read, CancellationToken cancellationToken)
    {
        var fixedPart = $"query?db={Uri.EscapeDataString(Options.Bucket)}&epoch=ms";
        using var request = new HttpRequestMessage(method, method == HttpMethod.Get ? $"{fixedPart}&q={Uri.EscapeDataString(query)}" : fixedPart);
        if (method == HttpMethod.Post)
        {
            request.Content = new FormUrlEncodedContent([new KeyValuePair<string, string>("q", query)]);
        }

        request.Headers.Accept.ParseAdd(accept);
        await SendAsync(
            request,
            Options.ReadTimeout,
            async (response, token) =>
            {
                if (response.StatusCode != HttpStatusCode.OK)
                {
                    throw await RefusalAsync(response, token);
                }

                await using var body = await response.Content.ReadAsStreamAsync(token);
                await read(body, token);
                return true;
            },
            cancellationToken);
    }
}
