using Microsoft.AspNetCore.Http;
using Vanehour.Store.Influx;
using Vanehour.Tests.Loopback;

namespace Vanehour.Store.Tests.Influx;

/// <summary>What is wrong with a server at the start, as a sentence that says what to fix.</summary>
public sealed class InfluxCheckTests : IDisposable
{
    private readonly DataFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task Good_IsGood()
    {
        await using var stub = await InfluxStub.StartAsync();
        using var connection = new InfluxConnection(new InfluxOptions { Url = stub.Url + "/" });

        Assert.Equal("stub", await new InfluxCheck(connection).RunAsync(CancellationToken.None));
    }

    [Fact]
    public async Task NobodyThere()
    {
        using var port = new ReservedPort();
        var url = $"http://127.0.0.1:{port.Number}";

        var e = await FailureAsync(new InfluxOptions { Url = url });

        Assert.Equal(InfluxFailure.Transient, e.Failure);
        Assert.StartsWith($"InfluxDB at {url} does not answer (", e.Message, StringComparison.Ordinal);
        Assert.EndsWith("); check that it runs, and Store:Influx:Url.", e.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("<html>Welcome</html>", 200)]
    [InlineData("{\"tagline\":\"something else\"}", 200)]
    [InlineData("not found", 404)]
    [InlineData("", 302)]
    public async Task SomethingElse(string body, int status)
    {
        await using var other = await LoopbackServer.StartAsync(context =>
        {
            context.Response.StatusCode = status;
            return context.Response.WriteAsync(body);
        });

        var e = await FailureAsync(new InfluxOptions { Url = other.Url });

        Assert.Equal(InfluxFailure.NeedsPerson, e.Failure);
        Assert.Equal($"What answers at {other.Url} is not an InfluxDB (it answered /ping with {status} and no X-Influxdb-Version); correct Store:Influx:Url.", e.Message);
    }

    [Fact]
    public async Task NoTokenOrTheWrongOne()
    {
        await using var stub = await InfluxStub.StartAsync();
        stub.Token = "good";
        var token = folder.File("token");
        await File.WriteAllTextAsync(token, "bad");

        Assert.Equal(
            $"InfluxDB at {stub.Url} asks for a token (401: unauthorized access); put one that may read and write the bucket 'vanehour' into a file and name it in Store:Influx:TokenFile.",
            (await FailureAsync(new InfluxOptions { Url = stub.Url })).Message);
        Assert.Equal(
            $"InfluxDB at {stub.Url} refuses the token (401: unauthorized access); put one that may read and write the bucket 'vanehour' into {token}.",
            (await FailureAsync(new InfluxOptions { Url = stub.Url, TokenFile = token })).Message);
        await File.WriteAllTextAsync(token, " good\n");
        using var connection = new InfluxConnection(new InfluxOptions { Url = stub.Url, TokenFile = token });
        await new InfluxCheck(connection).RunAsync(CancellationToken.None);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task NoBucket(bool onReading)
    {
        await using var stub = await InfluxStub.StartAsync();
        stub.QueryFault = () => onReading ? new StubFault(404, "not found", "no dbrp mapping found") : null;
        stub.Fault = _ => onReading ? null : StubFault.NoBucket;

        var e = await FailureAsync(new InfluxOptions { Url = stub.Url, Org = "yard" });

        Assert.Equal(InfluxFailure.NeedsPerson, e.Failure);
        Assert.StartsWith($"InfluxDB at {stub.Url} has no bucket 'vanehour' in the organisation 'yard' (404: ", e.Message, StringComparison.Ordinal);
        Assert.EndsWith("); make it, or correct Store:Influx:Bucket and Store:Influx:Org.", e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Settings_AreCheckedInSentences()
    {
        Assert.Empty(new InfluxOptions().Problems());
        InfluxOptions[] bad =
        [
            new() { Url = "localhost:8086" }, new() { Url = "http://u:p@h" }, new() { Bucket = " " }, new() { TokenFile = folder.File("none") }, new() { BatchLines = 5001 },
            new() { WriteTimeout = TimeSpan.Zero }, new() { RetryFirst = TimeSpan.FromMinutes(5) }, new() { Measurement = "" },
        ];
        Assert.All(bad, o => Assert.StartsWith("Store:Influx:", Assert.Single(o.Problems()), StringComparison.Ordinal));
        Assert.All(bad, o => Assert.Throws<ArgumentException>(() => new InfluxConnection(o)));
    }

    private static async Task<InfluxException> FailureAsync(InfluxOptions options)
    {
        using var connection = new InfluxConnection(options);
        return await Assert.ThrowsAsync<InfluxException>(() => new InfluxCheck(connection).RunAsync(CancellationToken.None));
    }
}
