using System.Net;
using System.Text;
using System.Text.Json;
using System.Threading.Channels;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using Vanehour.Fleet;
using Vanehour.Host.Composition;
using Vanehour.Host.Notices;
using Vanehour.Host.Settings;
using Vanehour.Models.Findings;

namespace Vanehour.Host.Tests;

/// <summary>The webhook: each opening, change and closing once, over failures and restarts.</summary>
public sealed class NoticeTests : IDisposable
{
    private static readonly DateTimeOffset Now = new(2026, 5, 4, 12, 0, 0, TimeSpan.Zero);

    private readonly CommandLine cli = new();
    private readonly DataFolder data;
    private readonly FindingBook book;
    private readonly Receiver receiver = new();
    private readonly FakeTimeProvider time = new(Now);

    public NoticeTests()
    {
        data = DataFolder.Open(cli.Data);
        book = new FindingBook(data.Findings);
    }

    public void Dispose()
    {
        receiver.Dispose();
        data.Dispose();
        cli.Dispose();
    }

    [Fact]
    public async Task OpenedChangedClosed_EachOnce_AcrossRestarts()
    {
        book.Save([Make("a1"), Make("old") with { Status = FindingStatus.Closed, Closed = Now }]);
        await Told();
        await Told();
        book.Acknowledge("a1", "Ann");
        await Told();
        await Told();
        book.Close("a1", new Verdict(Cause.OilLeak, "Ann", null), Now);
        await Told();
        await Told();

        Assert.Equal(["opened a1", "changed a1", "closed a1"], receiver.Taken);
        using var last = JsonDocument.Parse(receiver.Bodies[^1]);
        Assert.Equal("OilLeak", last.RootElement.GetProperty("cause_found").GetString());
        Assert.Equal("Closed", last.RootElement.GetProperty("status").GetString());
        Assert.Equal("T1", last.RootElement.GetProperty("truck").GetString());
    }

    [Fact]
    public async Task ANumberThatMovesALittle_IsNoNews_AnUrgencyIs()
    {
        book.Save([Make("a1")]);
        await Told();
        book.Save([Make("a1") with { Evidence = [new Evidence("oil use", 0.43, "L/h", 0.2, 0.3)] }]);
        await Told();
        Assert.Equal(["opened a1"], receiver.Taken);

        book.Save([Make("a1") with { Urgency = Urgency.Stop }]);
        await Told();
        Assert.Equal(["opened a1", "changed a1"], receiver.Taken);
    }

    [Fact]
    public async Task OpenedAgainUnderItsId_IsOpened()
    {
        book.Save([Make("a1")]);
        await Told();
        book.Save([Make("a1") with { Status = FindingStatus.Closed, Closed = Now }]);
        await Told();
        book.Save([Make("a1")]);
        await Told();
        Assert.Equal(["opened a1", "closed a1", "opened a1"], receiver.Taken);
    }

    [Theory]
    [InlineData(503)]
    [InlineData(404)]
    [InlineData(0)]
    public async Task ReceiverThatIsAway_GetsEachOnceItIsBack(int status)
    {
        receiver.Status = status;
        book.Save([Make("a1"), Make("a2")]);
        Assert.False(await Service().TellAsync(default));
        book.Acknowledge("a1", "Ann");
        Assert.False(await Service().TellAsync(default));
        receiver.Status = 204;
        await Told();
        await Told();

        Assert.Equal(["opened a1", "opened a2"], receiver.Taken.Order());
        Assert.Contains("Acknowledged", receiver.Bodies.Single(b => b.Contains("a1", StringComparison.Ordinal)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task BrokenOffHalfWay_TheFirstIsNotToldAgain()
    {
        receiver.FailAfter = 1;
        book.Save([Make("a1"), Make("a2")]);
        Assert.False(await Service().TellAsync(default));
        receiver.FailAfter = int.MaxValue;
        await Told();
        Assert.Equal(2, receiver.Taken.Distinct().Count());
        Assert.Equal(2, receiver.Taken.Count);
    }

    [Fact]
    public async Task WhatAReceiverWillNeverTake_HoldsUpNothing()
    {
        receiver.Status = 422;
        book.Save([Make("a1")]);
        await Told();
        receiver.Status = 200;
        await Told();
        Assert.Empty(receiver.Taken);
        book.Acknowledge("a1", "Ann");
        await Told();
        Assert.Equal(["changed a1"], receiver.Taken);
    }

    [Fact]
    public async Task FindingThatIsNoLongerKnown_IsForgotten_AsAfterAnOlderBackupWasPutBack()
    {
        NoticeFile.Open(cli.Data, "webhook").Note("gone", new PublishedNotice("gone", "x"));
        await Told();
        Assert.Empty(receiver.Taken);
        Assert.Empty(NoticeFile.Open(cli.Data, "webhook").Published);
    }

    [Fact]
    public async Task Waits_DoubleUpToTheLongest()
    {
        receiver.Status = 503;
        book.Save([Make("a1")]);
        var settings = new NoticeSettings { RetryFirst = TimeSpan.FromSeconds(1), RetryLongest = TimeSpan.FromSeconds(5) };
        var clock = new WaitsTold();
        using var service = Service(settings, clock);
        await service.StartAsync(default);
        var waits = new List<TimeSpan>();
        for (var i = 0; i < 5; i++)
        {
            var (wait, end) = await clock.NextAsync();
            waits.Add(wait);
            receiver.Status = i == 4 ? 200 : 503;
            end();
        }

        var (afterSuccess, _) = await clock.NextAsync();
        await service.StopAsync(default);

        Assert.Equal([1, 2, 4, 5, 5], waits.Select(w => (int)w.TotalSeconds));
        Assert.Equal(settings.Every, afterSuccess);
    }

    [Theory]
    [InlineData("""{"Notices":{"Webhook":"ftp://example.org"}}""", "Webhook must be an http or https address.")]
    [InlineData("""{"Notices":{"Every":"00:00:00"}}""", "Times must be above zero")]
    [InlineData("""{"Watch":{"VacuumHoldS":0}}""", "The times that a limit may be passed")]
    [InlineData("""{"Watch":{"Often":1}}""", "there is no key")]
    public async Task SettingsThatCannotBeUsed_AreSaidBeforeAnythingStarts(string settings, string sentence)
    {
        await File.WriteAllTextAsync(Path.Combine(cli.Data, SettingsFile.Name), settings);
        var (code, _, error) = await cli.RunAsync("serve", "--broker", "mqtt://127.0.0.1:1");
        Assert.Equal(ExitCode.Failed, code);
        Assert.Contains(sentence, error, StringComparison.Ordinal);
    }

    private static Finding Make(string id) => OilUseHighFinding.Make(id, Now.AddDays(-9));

    private async Task Told() => Assert.True(await Service().TellAsync(default));

    // Each is as after a restart: what was told is read from the folder.
    private NoticeService Service(NoticeSettings? settings = null, TimeProvider? clock = null) => new(
        book,
        NoticeFile.Open(cli.Data, "webhook"),
        new WebhookChannel(new Uri("https://hook.example/findings"), receiver.Client, null, NullLogger<WebhookChannel>.Instance),
        settings ?? new NoticeSettings(),
        clock ?? time,
        NullLogger<NoticeService>.Instance);

    /// <summary>Stands in for the receiver of the webhook.</summary>
    private sealed class Receiver : HttpMessageHandler
    {
        public Receiver() => Client = new HttpClient(this, disposeHandler: false);

        public HttpClient Client { get; }

        /// <summary>What it answers; 0 refuses the connection.</summary>
        public int Status { get; set; } = 200;

        public int FailAfter { get; set; } = int.MaxValue;

        public List<string> Bodies { get; } = [];

        public List<string> Taken => [.. Bodies.Select(b =>
        {
            using var json = JsonDocument.Parse(b);
            return $"{json.RootElement.GetProperty("event").GetString()} {json.RootElement.GetProperty("id").GetString()}";
        })];

        protected override async Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
        {
            Assert.Equal((HttpMethod.Post, "application/json"), (request.Method, request.Content!.Headers.ContentType!.MediaType));
            var body = Encoding.UTF8.GetString(await request.Content.ReadAsByteArrayAsync(cancellationToken));
            if (Status == 0)
            {
                throw new HttpRequestException("refused");
            }

            var status = Bodies.Count >= FailAfter ? 500 : Status;
            if (status is >= 200 and < 300)
            {
                Bodies.Add(body);
            }

            return new HttpResponseMessage((HttpStatusCode)status);
        }

        protected override void Dispose(bool disposing)
        {
            Client.Dispose();
            base.Dispose(disposing);
        }
    }

    /// <summary>A clock whose waits end when the test says so.</summary>
    private sealed class WaitsTold : TimeProvider
    {
        private readonly Channel<(TimeSpan Wait, TimerCallback Callback, object? State)> waits =
            Channel.CreateUnbounded<(TimeSpan, TimerCallback, object?)>();

        public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
        {
            waits.Writer.TryWrite((dueTime, callback, state));
            return new Timer(_ => { }, null, Timeout.Infinite, Timeout.Infinite);
        }

        public async Task<(TimeSpan Wait, Action End)> NextAsync()
        {
            var (wait, callback, state) = await waits.Reader.ReadAsync();
            return (wait, () => callback(state));
        }
    }
}
