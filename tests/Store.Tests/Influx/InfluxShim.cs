using System.Globalization;
using Microsoft.AspNetCore.Http;

namespace Vanehour.Store.Tests.Influx;

/// <summary>
/// Lets an InfluxDB 1 be written to as a 1.8, 2 or 3 is: <c>/api/v2/write?org&amp;bucket&amp;precision</c> becomes <c>/write?db&amp;precision</c>; everything else goes through as it is.
/// Requests can be made to fail, which stands for a network and a server in trouble.
/// </summary>
public sealed class InfluxShim : IAsyncDisposable
{
    private readonly HttpClient http = new(new SocketsHttpHandler { AllowAutoRedirect = false });
    private LoopbackServer? server;

    /// <summary>Looks at every request before it goes on; where it returns true it has answered. Null: all go on.</summary>
    public Func<HttpContext, Task<bool>>? Before { get; set; }

    /// <summary>Where to go on to.</summary>
    public required string Target { get; init; }

    public string Url => server!.Url;

    /// <summary>Starts one before <paramref name="target"/>.</summary>
    public static async Task<InfluxShim> StartAsync(string target)
    {
        var shim = new InfluxShim { Target = target };
        shim.server = await LoopbackServer.StartAsync(shim.HandleAsync);
        return shim;
    }

    public async ValueTask DisposeAsync()
    {
        await server!.DisposeAsync();
        http.Dispose();
    }

    private async Task HandleAsync(HttpContext context)
    {
        if (Before is { } before && await before(context))
        {
            return;
        }

        var path = context.Request.Path + context.Request.QueryString;
        if (context.Request.Path == "/api/v2/write")
        {
            var query = context.Request.Query;
            path = string.Create(CultureInfo.InvariantCulture, $"/write?db={query["bucket"]}&precision={query["precision"]}");
        }

        using var request = new HttpRequestMessage(new HttpMethod(context.Request.Method), Target + path);
        if (context.Request.Method == "POST")
        {
            request.Content = new StreamContent(context.Request.Body);
            foreach (var header in context.Request.Headers.Where(h => h.Key.StartsWith("Content-", StringComparison.OrdinalIgnoreCase)))
            {
                request.Content.Headers.TryAddWithoutValidation(header.Key, header.Value.ToArray());
            }
        }

        request.Headers.TryAddWithoutValidation("Accept", context.Request.Headers.Accept.ToArray());
        try
        {
            using var answer = await http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, context.RequestAborted);
            context.Response.StatusCode = (int)answer.StatusCode;
            foreach (var header in answer.Headers.Concat(answer.Content.Headers).Where(h => h.Key is "Content-Type" or "X-Influxdb-Version" or "X-Influxdb-Build" or "X-Influxdb-Error"))
            {
                context.Response.Headers[header.Key] = header.Value.ToArray();
            }

            if (answer.StatusCode != System.Net.HttpStatusCode.NoContent)
            {
                await answer.Content.CopyToAsync(context.Response.Body, context.RequestAborted);
            }
        }
        catch (HttpRequestException)
        {
            // As a client sees a server that is down.
            context.Abort();
        }
        catch (OperationCanceledException)
        {
            // The client is gone.
        }
    }
}
