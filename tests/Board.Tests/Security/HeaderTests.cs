using System.Net;
using System.Net.Sockets;
using System.Text;
using Vanehour.Board.Tests.Browsing;
using Vanehour.Board.Tests.Running;

namespace Vanehour.Board.Tests.Security;

/// <summary>What every answer says to browsers, and what requests are not answered.</summary>
[Collection(OnDemoFleet.Name)]
public sealed class HeaderTests(DemoFleet demo)
{
    [Fact]
    public async Task EveryAnswerTellsBrowsersWhatTheyMayDo()
    {
        var board = await demo.LookAsync();
        using var visitor = new Visitor(board);
        foreach (var path in BoardPages.Of(board.Folder).Concat(["/api/plan", "/tables/plan.csv", "/calendars/plan.ics", "/pictures/plan.png", "/nothing", "/trucks/T99", "/trouble"]))
        {
            using var answer = await visitor.GetAsync(path);
            var policy = Header(answer, "Content-Security-Policy");
            foreach (var part in new[] { "default-src 'none'", "script-src 'self'", "style-src 'self'", "form-action 'self'", "frame-ancestors 'none'", "base-uri 'self'" })
            {
                Assert.Contains(part, policy, StringComparison.Ordinal);
            }

            Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
            Assert.Equal("nosniff", Header(answer, "X-Content-Type-Options"));
            Assert.Equal("same-origin", Header(answer, "Referrer-Policy"));
            Assert.Equal("same-origin", Header(answer, "Cross-Origin-Opener-Policy"));
            Assert.True(answer.Headers.CacheControl?.NoStore, path);
            Assert.False(answer.Headers.Contains("Server"));
            Assert.All(answer.Headers.TryGetValues("Set-Cookie", out var cookies) ? cookies : [], c =>
            {
                Assert.Contains("httponly", c, StringComparison.OrdinalIgnoreCase);
                Assert.Contains("samesite=strict", c, StringComparison.OrdinalIgnoreCase);
            });
        }
    }

    /// <summary>Through a proxy that it was not told of the whole world would look like this machine.</summary>
    [Fact]
    public async Task AProxyThatItWasNotToldOfIsRefused()
    {
        var board = await demo.LookAsync();
        using var visitor = new Visitor(board);
        foreach (var header in new[] { "X-Forwarded-For", "Forwarded", "X-Forwarded-Host" })
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, new Uri("/", UriKind.Relative));
            request.Headers.TryAddWithoutValidation(header, "192.0.2.7");
            using var answer = await visitor.SendAsync(request);
            Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.StatusCode);
            Assert.Contains("BehindProxy", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task PagesHoldNoScriptOrStyleOfTheirOwn()
    {
        var board = await demo.LookAsync();
        using var visitor = new Visitor(board);
        foreach (var path in BoardPages.Of(board.Folder))
        {
            var html = await visitor.TextAsync(path);
            Assert.Equal(1, html.Split("<script").Length - 1);
            Assert.DoesNotContain("<style", html, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotMatch("<[^>]* (style|on[a-z]+)=", html);
            Assert.DoesNotMatch("(src|href)=\"(https?:)?//", html);
        }
    }

    /// <summary>A page of somebody else's that calls the Board by a name of its own gets nothing.</summary>
    [Theory]
    [InlineData("board.evil.example", HttpStatusCode.BadRequest)]
    [InlineData("127.0.0.1.evil.example", HttpStatusCode.BadRequest)]
    [InlineData("localhost", HttpStatusCode.OK)]
    public async Task OnlyNamesOfItsOwnAreAnswered(string host, HttpStatusCode status)
    {
        var board = await demo.LookAsync();
        using var visitor = new Visitor(board);
        using var request = new HttpRequestMessage(HttpMethod.Get, "/plan");
        request.Headers.Host = host;
        using var answer = await visitor.SendAsync(request);
        Assert.Equal(status, answer.StatusCode);
        Assert.Equal(status == HttpStatusCode.OK, (await answer.Content.ReadAsStringAsync()).Contains("T04", StringComparison.Ordinal));
    }

    /// <summary>Written byte for byte: a client's library would tidy the path.</summary>
    [Theory]
    [InlineData("/assets/..%2f..%2f..%2fetc%2fpasswd")]
    [InlineData("/assets/../../../../etc/passwd")]
    [InlineData("/assets/%2e%2e/%2e%2e/etc/passwd")]
    [InlineData("/assets//etc/passwd")]
    [InlineData("/assets/board.css")]
    [InlineData("/pictures/truck/..%2f..%2fetc.png")]
    [InlineData("/pictures/truck/../../fleet.db.png")]
    [InlineData("/pictures/truck/T01%00.png")]
    [InlineData("/tables/..%2ffleet.db")]
    [InlineData("/tables/passwd.csv")]
    [InlineData("/api/..%2f..%2fboard-people.json")]
    [InlineData("/api/runs?truck=..%2f..%2fetc")]
    [InlineData("/api/runs?truck=--data=/tmp")]
    [InlineData("/board-people.json")]
    [InlineData("/board-keys/")]
    [InlineData("/fleet.db")]
    [InlineData("/trucks/..%2f..%2fetc%2fpasswd")]
    [InlineData("/findings/@%2Fetc%2Fpasswd")]
    public async Task NothingBesideThePagesIsServed(string path)
    {
        var board = await demo.LookAsync();
        using var client = new TcpClient();
        await client.ConnectAsync(IPAddress.Loopback, board.Address.Port);
        await using var stream = client.GetStream();
        await stream.WriteAsync(Encoding.ASCII.GetBytes($"GET {path} HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n"));
        using var reader = new StreamReader(stream, Encoding.Latin1);
        var answer = await reader.ReadToEndAsync();
        var status = int.Parse(answer.Split(' ')[1], System.Globalization.CultureInfo.InvariantCulture);
        Assert.True(status is 400 or 404, answer[..Math.Min(300, answer.Length)]);
        Assert.DoesNotContain("root:", answer, StringComparison.Ordinal);
        Assert.DoesNotContain("SQLite format", answer, StringComparison.Ordinal);
    }

    private static string Header(HttpResponseMessage answer, string name) => Assert.Single(answer.Headers.TryGetValues(name, out var values) ? values : []);
}
