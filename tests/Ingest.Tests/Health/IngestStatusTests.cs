using Microsoft.Extensions.Time.Testing;
using Vanehour.Ingest.Health;

namespace Vanehour.Ingest.Tests.Health;

public class IngestStatusTests
{
    private static readonly TimeSpan Oldest = TimeSpan.FromSeconds(30);

    private readonly FakeTimeProvider time = new();
    private readonly IngestMonitor monitor;

    public IngestStatusTests() => monitor = new IngestMonitor(time);

    [Fact]
    public void Ready_MeansRunningConnectedAndStoring()
    {
        Assert.False(IsReady());
        monitor.Started();
        Assert.False(IsReady());
        monitor.Connected();
        Assert.True(IsReady());
        monitor.StoreFailed("The disk is full.");
        Assert.False(IsReady());
        monitor.Flushed(1, [], 0, 0);
        Assert.True(IsReady());
        monitor.Disconnected("gone");
        Assert.False(IsReady());
    }

    [Fact]
    public void Ready_MeansThatNothingWaitsTooLong()
    {
        monitor.Started();
        monitor.Connected();
        time.Advance(Oldest * 2);
        monitor.MessageReceived();
        Assert.True(IsReady());
        time.Advance(Oldest);
        monitor.MessageReceived();
        Assert.True(IsReady());
        time.Advance(TimeSpan.FromSeconds(1));
        Assert.False(IsReady());
        monitor.Acknowledged(1, 0);
        Assert.Equal(time.GetUtcNow(), monitor.Snapshot().WaitingSince);
        Assert.True(IsReady());
        monitor.Acknowledged(1, 0);
        Assert.Null(monitor.Snapshot().WaitingSince);
    }

    [Fact]
    public async Task WaitForAcknowledged_EndsWithTheLastMessage()
    {
        var wait = monitor.WaitForAcknowledgedAsync(3, CancellationToken.None);
        monitor.Acknowledged(2, 5);
        Assert.False(wait.IsCompleted);
        monitor.Acknowledged(1, 0);

        Assert.Equal(3, (await wait.WaitAsync(TimeSpan.FromMinutes(1))).MessagesAcknowledged);
    }

    private bool IsReady() => monitor.Snapshot().IsReady(time.GetUtcNow(), Oldest);
}
