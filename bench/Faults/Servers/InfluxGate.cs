using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;

namespace Vanehour.Bench.Faults.Servers;

/// <summary>
/// What workers take for an InfluxDB 1.8 or 2: requests to <c>/api/v2/write</c> go on to an InfluxDB 1's <c>/write</c>, all others as they are, and any of them can be
/// made to fail. It speaks just enough HTTP/1.1 for that over plain sockets: a web framework here would take from the worker's executable beside this program the
/// files it brings itself, and HttpListener answers 200 where a connection should break.
/// </summary>
internal sealed class InfluxGate : IAsyncDisposable
{
    private readonly TcpListener listener = new(IPAddress.Loopback, 0);
    private readonly HttpClient http = new(new SocketsHttpHandler { AllowAutoRedirect = false });
    private readonly CancellationTokenSource closing = new();
    private readonly string target;
    private readonly Task accepting;
    private long failed;

    public InfluxGate(string target)
    {
        this.target = target;
        listener.Start();
        Url = string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{((IPEndPoint)listener.LocalEndpoint).Port}");
        accepting = Task.Run(AcceptAsync);
    }

    /// <summary>The address for workers.</summary>
    public string Url { get; }

    /// <summary>What is wrong now.</summary>
    public ServerTrouble Trouble { get; set; }

    /// <summary>Requests to write that were made to fail so far.</summary>
    public long Failed => Interlocked.Read(ref failed);

    public async ValueTask DisposeAsync()
    {
        await closing.CancelAsync();
        listener.Stop();
        await accepting.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        http.Dispose();
        closing.Dispose();
    }

    private async Task AcceptAsync()
    {
        while (true)
        {
            var client = await listener.AcceptTcpClientAsync(closing.Token);
            _ = Task.Run(() => ServeAsync(client));
        }
    }

    private async Task ServeAsync(TcpClient client)
    {
        using (client)
        {
            try
            {
                client.NoDelay = true;
                var stream = new BufferedStream(client.GetStream(), 64 * 1024);
                while (await RequestAsync(stream) is { } request)
                {
                    if (!await AnswerAsync(stream, request))
                    {
                        // Reset, so that the worker does not take it for an orderly end.
                        client.Client.LingerState = new LingerOption(enable: true, seconds: 0);
                        return;
                    }
                }
            }
            catch (Exception e) when (e is IOException or SocketException or OperationCanceledException or ObjectDisposedException or FormatException)
            {
                // Worker or gate is gone.
            }
        }
    }

    private async Task<(string Method, string Path, Dictionary<string, string> Headers, byte[] Body)?> RequestAsync(BufferedStream stream)
    {
        if (await LineAsync(stream) is not { } first)
        {
            return null;
        }

        var parts = first.Split(' ');
        var headers = new Dictionary<string, string>(StringComparer.OrdinalIgnoreCase);
        while (await LineAsync(stream) is { Length: > 0 } line)
        {
            var colon = line.IndexOf(':', StringComparison.Ordinal);
            headers[line[..colon]] = line[(colon + 1)..].Trim();
        }

        var body = Array.Empty<byte>();
        if (headers.GetValueOrDefault("Transfer-Encoding") == "chunked")
        {
            using var whole = new MemoryStream();
            while (int.Parse(await LineAsync(stream) ?? "0", NumberStyles.HexNumber, CultureInfo.InvariantCulture) is > 0 and var length)
            {
                whole.Write(await BytesAsync(stream, length));
                await LineAsync(stream);
            }

            await LineAsync(stream);
            body = whole.ToArray();
        }
        else if (headers.TryGetValue("Content-Length", out var length))
        {
            body = await BytesAsync(stream, int.Parse(length, CultureInfo.InvariantCulture));
        }

        return (parts[0], parts[1], headers, body);
    }

    private async Task<byte[]> BytesAsync(BufferedStream stream, int length)
    {
        var bytes = new byte[length];
        await stream.ReadExactlyAsync(bytes, closing.Token);
        return bytes;
    }

    private async Task<string?> LineAsync(BufferedStream stream)
    {
        var line = new StringBuilder();
        var one = new byte[1];
        while (await stream.ReadAsync(one, closing.Token) > 0)
        {
            if (one[0] == '\n')
            {
                return line.ToString().TrimEnd('\r');
            }

            line.Append((char)one[0]);
        }

        return line.Length == 0 ? null : throw new IOException("The connection ended in the midst of a line.");
    }

    // False: the connection is to break instead of an answer.
    private async Task<bool> AnswerAsync(BufferedStream stream, (string Method, string Path, Dictionary<string, string> Headers, byte[] Body) request)
    {
        var isWrite = request.Path.StartsWith("/api/v2/write?", StringComparison.Ordinal);
        var trouble = isWrite ? Trouble : ServerTrouble.None;
        if (trouble is not (ServerTrouble.None or ServerTrouble.Slow))
        {
            Interlocked.Increment(ref failed);
        }

        switch (trouble)
        {
            case ServerTrouble.Unavailable:
                await RefuseAsync(stream, "503 Service Unavailable", string.Empty);
                return true;
            case ServerTrouble.TooMany:
                await RefuseAsync(stream, "429 Too Many Requests", "Retry-After: 1\r\n");
                return true;
            case ServerTrouble.Internal:
                await RefuseAsync(stream, "500 Internal Server Error", string.Empty);
                return true;
            case ServerTrouble.ResetBefore:
                return false;
        }

        using var answer = await ForwardAsync(request, isWrite);
        if (answer is null || trouble == ServerTrouble.ResetAfter)
        {
            return false;
        }

        if (trouble is ServerTrouble.Stalled or ServerTrouble.Slow)
        {
            await Task.Delay(trouble == ServerTrouble.Slow ? TimeSpan.FromSeconds(1) : TimeSpan.FromSeconds(30), closing.Token);
        }

        var body = await answer.Content.ReadAsByteArrayAsync(closing.Token);
        var head = new StringBuilder().Append(CultureInfo.InvariantCulture, $"HTTP/1.1 {(int)answer.StatusCode} {answer.ReasonPhrase}\r\n");
        foreach (var header in answer.Headers.Concat(answer.Content.Headers).Where(h => h.Key is "Content-Type" or "X-Influxdb-Version" or "X-Influxdb-Error"))
        {
            head.Append(CultureInfo.InvariantCulture, $"{header.Key}: {string.Join(", ", header.Value)}\r\n");
        }

        if (answer.StatusCode != HttpStatusCode.NoContent)
        {
            head.Append(CultureInfo.InvariantCulture, $"Content-Length: {body.Length}\r\n");
        }

        await SendAsync(stream, head.Append("\r\n").ToString(), answer.StatusCode == HttpStatusCode.NoContent ? [] : body);
        return true;
    }

    private Task RefuseAsync(BufferedStream stream, string status, string headers)
    {
        var body = """{"code":"unavailable","message":"made to fail"}"""u8.ToArray();
        return SendAsync(stream, string.Create(CultureInfo.InvariantCulture, $"HTTP/1.1 {status}\r\n{headers}Content-Type: application/json\r\nContent-Length: {body.Length}\r\n\r\n"), body);
    }

    private async Task SendAsync(BufferedStream stream, string head, byte[] body)
    {
        await stream.WriteAsync(Encoding.ASCII.GetBytes(head), closing.Token);
        await stream.WriteAsync(body, closing.Token);
        await stream.FlushAsync(closing.Token);
    }

    private async Task<HttpResponseMessage?> ForwardAsync((string Method, string Path, Dictionary<string, string> Headers, byte[] Body) request, bool isWrite)
    {
        var path = request.Path;
        if (isWrite)
        {
            var query = path[(path.IndexOf('?', StringComparison.Ordinal) + 1)..].Split('&').Select(p => p.Split('=')).ToDictionary(p => p[0], p => p[1], StringComparer.Ordinal);
            path = $"/write?db={query["bucket"]}&precision={query["precision"]}";
        }

        using var message = new HttpRequestMessage(new HttpMethod(request.Method), target + path);
        if (request.Body.Length > 0)
        {
            message.Content = new ByteArrayContent(request.Body);
        }

        foreach (var name in new[] { "Content-Type", "Content-Encoding", "Accept" })
        {
            if (request.Headers.TryGetValue(name, out var value) && !(name == "Accept" ? message.Headers.TryAddWithoutValidation(name, value) : message.Content?.Headers.TryAddWithoutValidation(name, value) ?? true))
            {
                throw new FormatException($"The header {name} cannot be passed on.");
            }
        }

        try
        {
            return await http.SendAsync(message, HttpCompletionOption.ResponseContentRead, closing.Token);
        }
        catch (HttpRequestException)
        {
            // As a client sees a server that is down.
            return null;
        }
    }
}
