using System.Diagnostics;
using Microsoft.AspNetCore.Http;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Influx;
using Vanehour.Store.Sqlite;
using Vanehour.Store.Tests.Telemetry;
using static Vanehour.Store.Tests.Telemetry.Samples;

namespace Vanehour.Store.Tests.Influx;

/// <summary>Reading back while something goes wrong: an outage never looks like nothing to read.</summary>
public sealed class InfluxReadFaultTests : IDisposable
{
    // A machine that is busy with other tests must not make a time-out of what is none.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    private readonly DataFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData(401, "refuses the token|asks for a token")]
    [InlineData(404, "has no bucket")]
    [InlineData(500, "cannot do its work now")]
    [InlineData(0, "does not answer")]
    public async Task Refusals_AreOutages(int status, string word)
    {
        await using var stub = await InfluxStub.StartAsync();
        stub.QueryFault = () => new StubFault(status, "x", "y");

        var e = await Assert.ThrowsAsync<StoreUnavailableException>(() => ReadAsync(stub.Url));

        Assert.Matches(word, e.Message);
    }

    // The header and a part of the body come, then nothing: a time-out on the answer's first byte alone would wait for ever.
    [Fact]
    public async Task BodyThatStalls_IsGivenUpAtTheDeadline()
    {
        await using var server = await LoopbackServer.StartAsync(async context =>
        {
            await context.Response.WriteAsync("name,tags,time,vacuum\npump,,1,50\n");
            await context.Response.Body.FlushAsync();
            await Task.Delay(Timeout.Infinite, context.RequestAborted);
        });
        var watch = Stopwatch.StartNew();

        var e = await Assert.ThrowsAsync<StoreUnavailableException>(() => ReadAsync(server.Url, TimeSpan.FromSeconds(2)).WaitAsync(Patience));

        Assert.Contains("no answer within 2 s", e.Message, StringComparison.Ordinal);
        Assert.True(watch.Elapsed >= TimeSpan.FromSeconds(1.9), $"{watch.Elapsed}");
    }

    [Fact]
    public async Task BodyThatBreaksOff_IsAnOutage()
    {
        await using var server = await LoopbackServer.StartAsync(async context =>
        {
            await context.Response.WriteAsync("name,tags,time,vacuum\npump,,1,50\n");
            await context.Response.Body.FlushAsync();
            context.Abort();
        });

        await Assert.ThrowsAsync<StoreUnavailableException>(() => ReadAsync(server.Url));
    }

    [Theory]
    [InlineData("error\ndatabase not found: vanehour\n", "has no bucket")]
    [InlineData("name,tags,time,vacuum\npump,,1,50\n\nerror\nquery timeout\n", "query timeout")]
    [InlineData("<html>\n<body>login</body>\n</html>\n", "is not an InfluxDB")]
    [InlineData("name,tags,time,vacuum\npump,,now,50\n", "is not an InfluxDB")]
    public async Task TroubleInsideAnAnswerWithStatus200_IsAnOutage(string body, string word)
    {
        await using var server = await LoopbackServer.StartAsync(context => context.Response.WriteAsync(body));

        Assert.Contains(word, (await Assert.ThrowsAsync<StoreUnavailableException>(() => ReadAsync(server.Url))).Message, StringComparison.Ordinal);
    }

    // As InfluxDB 1.6 was seen to do it.
    [Theory]
    [InlineData("database not found: vanehour", "has no bucket 'vanehour'")]
    [InlineData("query-timeout limit exceeded", "query-timeout limit exceeded")]
    public async Task ErrorLeftOutOfTheCsv_IsFoundAllTheSame(string error, string word)
    {
        await using var server = await LoopbackServer.StartAsync(context => context.Response.WriteAsync(
            context.Request.Headers.Accept == "application/json" ? $$"""{"results":[{"statement_id":0,"error":"{{error}}"}]}""" : string.Empty));

        Assert.Contains(word, (await Assert.ThrowsAsync<StoreUnavailableException>(() => ReadAsync(server.Url))).Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task DirectWriteThatFails_IsSaid_AndTheSameBatchGoesInLater()
    {
        await using var stub = await InfluxStub.StartAsync();
        stub.Fault = n => n == 1 ? StubFault.Unavailable : null;
        using var place = new Place(folder, stub.Url, Patience);

        var e = await Assert.ThrowsAsync<StoreUnavailableException>(() => place.Store.WriteAsync(Series("T1", 10)));
        Assert.Contains("cannot do its work now (503: engine", e.Message, StringComparison.Ordinal);
        Assert.Empty(stub.Points("T1"));

        await place.Store.WriteAsync(Series("T1", 10));
        Assert.Equal(Series("T1", 10), await place.Store.ReadAsync("T1"));
        Assert.Equal(10, Assert.Single(await place.Store.TrucksAsync()).Samples);
    }

    private async Task ReadAsync(string url, TimeSpan? timeout = null)
    {
        using var place = new Place(folder, url, timeout ?? Patience);
        await place.Store.ReadAsync("T1");
    }

    private sealed class Place : IDisposable
    {
        private readonly InfluxConnection connection;

        public Place(DataFolder folder, string url, TimeSpan readTimeout)
        {
            var database = SqliteDatabase.Open(folder.Path, SamplesSchema.Current);
            connection = new InfluxConnection(new InfluxOptions { Url = url, ReadTimeout = readTimeout });
            Store = new InfluxTelemetryStore(connection, database, new SqliteRejectLog(database), TimeProvider.System);
        }

        public InfluxTelemetryStore Store { get; }

        public void Dispose()
        {
            Store.Dispose();
            connection.Dispose();
        }
    }
}
