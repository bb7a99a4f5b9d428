using Vanehour.Ingest.Feed;

namespace Vanehour.Ingest.Tests.Feed;

public class TakeoverWatchTests
{
    private static readonly BrokerException Closed = new(BrokerFailure.ConnectionClosed, "closed");

    private readonly TakeoverWatch watch = new(new IngestOptions());

    [Fact]
    public void BrokerThatSaysSo_IsBelievedAtOnce() =>
        Assert.Throws<BrokerException>(() => watch.ThrowIfTaken(new BrokerException(BrokerFailure.SessionTakenOver, "taken"), false, null));

    [Fact]
    public void ShortConnectionsClosedInARow_MeanATakeover()
    {
        Close(TakeoverWatch.Closures - 1);
        Assert.Equal(BrokerFailure.SessionTakenOver, Assert.Throws<BrokerException>(() => Close(1)).Failure);
    }

    [Fact]
    public void LongConnection_FailedAttempt_OrAnotherLoss_StartTheCountAgain()
    {
        Close(TakeoverWatch.Closures - 1);
        watch.ThrowIfTaken(Closed, wasShort: false, brokerStayed: null);
        Close(TakeoverWatch.Closures - 1);
        watch.Reset();
        Close(TakeoverWatch.Closures - 1);
        watch.ThrowIfTaken(new BrokerException(BrokerFailure.ConnectionLost, "reset by peer"), wasShort: true, brokerStayed: true);
        Close(TakeoverWatch.Closures - 1);
    }

    [Fact]
    public void BrokerThatThrewOutABystanderToo_WasAwayItself()
    {
        for (var i = 0; i < 10 * TakeoverWatch.Closures; i++)
        {
            Close(TakeoverWatch.Closures - 1, brokerStayed: true);
            watch.ThrowIfTaken(Closed, wasShort: true, brokerStayed: false);
            Assert.False(watch.IsSuspected);
        }
    }

    private void Close(int times, bool? brokerStayed = null)
    {
        for (var i = 0; i < times; i++)
        {
            watch.ThrowIfTaken(Closed, wasShort: true, brokerStayed);
        }
    }
}
