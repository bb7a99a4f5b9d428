using System.Globalization;
using System.Net.Sockets;
using System.Text;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Http;
using Vanehour.Fleet;

namespace Vanehour.Store.Tests.Influx;

/// <summary>
/// A stand-in for an InfluxDB 2 in memory: stores points as one does (a point overwrites its own fields), answers the statement that samples are read with, and fails on
/// demand with the bodies InfluxDB 2 has for it. The bodies are written from memory of its API documentation, not recorded from a server.
/// </summary>
public sealed partial class InfluxStub : IAsyncDisposable
{
    private readonly Lock gate = new();
    private readonly Dictionary<string, SortedDictionary<long, SignalValues>> trucks = new(StringComparer.Ordinal);
    private readonly CancellationTokenSource closing = new();
    private LoopbackServer? server;

    public string Url => server!.Url;

    /// <summary>What goes wrong with a write; it gets the number of the request, from 1. Null: nothing.</summary>
    public Func<int, StubFault?> Fault { get; set; } = _ => null;

    /// <summary>What goes wrong with a query.</summary>
    public Func<StubFault?> QueryFault { get; set; } = () => null;

    /// <summary>What goes wrong with a worker's note.</summary>
    public Func<StubFault?> NoteFault { get; set; } = () => null;

    /// <summary>The workers' notes, by worker and instant as they stand in the line.</summary>
    public SortedDictionary<string, string> Notes { get; } = new(StringComparer.Ordinal);

    /// <summary>Points it will not have.</summary>
    public Func<Sample, bool> IsBad { get; set; } = _ => false;

    /// <summary>Whether it stores the good points beside bad ones and answers 422; else it stores none and answers 400.</summary>
    public bool IsPartial { get; set; }

    /// <summary>The longest request it takes, in lines; longer ones get 413.</summary>
    public int MaxLines { get; set; } = int.MaxValue;

    /// <summary>The token it wants; null: any.</summary>
    public string? Token { get; set; }

    /// <summary>Requests to write so far.</summary>
    public int Writes { get; private set; }

    /// <summary>Requests to read so far.</summary>
    public int Queries { get; private set; }

    /// <summary>The lines of each request that was stored, for those who look at how they were batched.</summary>
    public List<int> StoredLines { get; } = [];

    /// <summary>Raised when a request has been stored, before it is answered.</summary>
    public event Action? Stored;

    public static async Task<InfluxStub> StartAsync(Socket? bound = null)
    {
        var stub = new InfluxStub();
        stub.server = await LoopbackServer.StartAsync(stub.HandleAsync, bound);
        return stub;
    }

    /// <summary>The points of a truck, in order of time.</summary>
    public List<Sample> Points(string truck)
    {
        lock (gate)
        {
            return trucks.TryGetValue(truck, out var points) ? [.. points.Select(p => new Sample(truck, p.Key, p.Value))] : [];
        }
    }

    public async ValueTask DisposeAsync()
    {
        await closing.CancelAsync();
        await server!.DisposeAsync();
        closing.Dispose();
    }

    [GeneratedRegex("""^SELECT (?<fields>.+) FROM "pump" WHERE "truck" = '(?<truck>[^']*)' AND time >= '(?<from>[^']*)' AND time < '(?<to>[^']*)' ORDER BY time LIMIT (?<limit>\d+)$""")]
    private static partial Regex ReadStatement { get; }

    private static Sample Parse(string line)
    {
        var parts = line.Split(' ');
        Assert.Equal(3, parts.Length);
        Assert.StartsWith("pump,truck=", parts[0], StringComparison.Ordinal);
        var values = SignalValues.Empty;
        foreach (var field in parts[1].Split(','))
        {
            var pair = field.Split('=');
            values.Set(SignalInfo.Find(pair[0])!.Signal, double.Parse(pair[1], CultureInfo.InvariantCulture));
        }

        return new Sample(parts[0]["pump,truck=".Length..], long.Parse(parts[2], CultureInfo.InvariantCulture), values);
    }

    private async Task HandleAsync(HttpContext context)
    {
        try
        {
            if (Token is { } token && context.Request.Headers.Authorization != $"Token {token}")
            {
                await FailAsync(context, StubFault.Unauthorized);
                return;
            }

            switch (context.Request.Path.Value)
            {
                case "/ping":
                    context.Response.Headers["X-Influxdb-Version"] = "stub";
                    context.Response.StatusCode = 204;
                    break;
                case "/api/v2/write":
                    await WriteAsync(context);
                    break;
                case "/query":
                    await QueryAsync(context);
                    break;
                default:
                    context.Response.StatusCode = 404;
                    break;
            }
        }
        catch (OperationCanceledException)
        {
            // The client or the test is gone.
        }
    }

    private async Task WriteAsync(HttpContext context)
    {
        Assert.Equal("ms", context.Request.Query["precision"]);
        using var reader = new StreamReader(context.Request.Body);
        var lines = (await reader.ReadToEndAsync(context.RequestAborted)).Split('\n', StringSplitOptions.RemoveEmptyEntries)
            .Where(l => !l.StartsWith('#')).ToArray();
        if (lines.Length > 0 && lines[0].StartsWith("forwarded,", StringComparison.Ordinal))
        {
            await NoteAsync(context, Assert.Single(lines));
            return;
        }

        var fault = Fault(++Writes);
        if (fault is { AfterStoring: false })
        {
            await FailAsync(context, fault);
            return;
        }

        if (lines.Length > MaxLines)
        {
            await FailAsync(context, new StubFault(413, "request too large", "unable to read data: points batch is too large"));
            return;
        }

        var points = lines.Select(Parse).ToArray();
        var bad = points.Where(IsBad).ToArray();
        if (bad.Length > 0 && !IsPartial)
        {
            await FailAsync(context, new StubFault(400, "invalid", $"unable to parse points: {bad.Length} of them"));
            return;
        }

        Store(points.Except(bad));
        if (bad.Length > 0)
        {
            await FailAsync(
                context,
                new StubFault(422, "unprocessable entity", $"failure writing points to database: partial write: points beyond retention policy dropped={bad.Length}"));
        }
        else if (fault is not null)
        {
            await FailAsync(context, fault);
        }
        else
        {
            context.Response.StatusCode = 204;
        }
    }

    private async Task NoteAsync(HttpContext context, string line)
    {
        var fault = NoteFault();
        if (fault is null or { AfterStoring: true })
        {
            lock (gate)
            {
                Notes[$"{line[..line.IndexOf(' ', StringComparison.Ordinal)]} {line[(line.LastIndexOf(' ') + 1)..]}"] = line;
            }
        }

        if (fault is not null)
        {
            await FailAsync(context, fault);
            return;
        }

        context.Response.StatusCode = 204;
    }

    private void Store(IEnumerable<Sample> points)
    {
        lock (gate)
        {
            var count = 0;
            foreach (var point in points)
            {
                count++;
                if (!trucks.TryGetValue(point.Truck, out var own))
                {
                    trucks[point.Truck] = own = [];
                }

                var merged = own.GetValueOrDefault(point.UnixMs, SignalValues.Empty);
                merged.Merge(point.Values);
                own[point.UnixMs] = merged;
            }

            StoredLines.Add(count);
        }

        Stored?.Invoke();
    }

    private async Task QueryAsync(HttpContext context)
    {
        Queries++;
        if (QueryFault() is { } fault)
        {
            await FailAsync(context, fault);
            return;
        }

        if (context.Request.Headers.Accept == "application/json")
        {
            // Asked so only after an empty answer.
            await context.Response.WriteAsync("""{"results":[{"statement_id":0}]}""", context.RequestAborted);
            return;
        }

        var answer = new StringBuilder();
        var match = ReadStatement.Match(context.Request.Query["q"].ToString());
        if (match.Success)
        {
            var from = DateTimeOffset.Parse(match.Groups["from"].Value, CultureInfo.InvariantCulture).ToUnixTimeMilliseconds();
            var to = DateTimeOffset.Parse(match.Groups["to"].Value, CultureInfo.InvariantCulture).ToUnixTimeMilliseconds();
            var points = Points(match.Groups["truck"].Value).Where(p => p.UnixMs >= from && p.UnixMs < to)
                .Take(int.Parse(match.Groups["limit"].Value, CultureInfo.InvariantCulture)).ToArray();
            if (points.Length > 0)
            {
                answer.Append("name,tags,time,").AppendJoin(',', SignalInfo.All.Select(s => s.Name)).Append('\n');
            }

            foreach (var point in points)
            {
                answer.Append(CultureInfo.InvariantCulture, $"pump,,{point.UnixMs}");
                for (var i = 0; i < SignalInfo.Count; i++)
                {
                    answer.Append(',').Append(double.IsNaN(point.Values[i]) ? string.Empty : point.Values[i].ToString("R", CultureInfo.InvariantCulture));
                }

                answer.Append('\n');
            }
        }

        context.Response.ContentType = "text/csv";
        await context.Response.WriteAsync(answer.ToString(), context.RequestAborted);
    }

    private async Task FailAsync(HttpContext context, StubFault fault)
    {
        if (fault.Stalls)
        {
            using var either = CancellationTokenSource.CreateLinkedTokenSource(context.RequestAborted, closing.Token);
            await Task.Delay(Timeout.Infinite, either.Token);
        }

        if (fault.Status == 0)
        {
            context.Abort();
            return;
        }

        context.Response.StatusCode = fault.Status;
        if (fault.RetryAfter is { } seconds)
        {
            context.Response.Headers.RetryAfter = seconds.ToString(CultureInfo.InvariantCulture);
        }

        context.Response.ContentType = fault.Code is null ? "text/html" : "application/json";
        var message = fault.Message.Replace("\"", "\\\"", StringComparison.Ordinal);
        await context.Response.WriteAsync(fault.Code is null ? fault.Message : $$"""{"code":"{{fault.Code}}","message":"{{message}}"}""", context.RequestAborted);
    }
}
