using Vanehour.Store.Outbox;

namespace Vanehour.Store.Tests.Outbox;

public sealed class RetryWaitTests
{
    private readonly RetryWait wait = new(TimeSpan.FromSeconds(1), TimeSpan.FromSeconds(30), new Random(1));

    [Fact]
    public void Waits_DoubleUpToTheCap_EachBetweenHalfAndAllOfIt()
    {
        foreach (var nominal in new[] { 1, 2, 4, 8, 16, 30, 30, 30 })
        {
            Assert.InRange(wait.Next(null).TotalSeconds, nominal / 2.0, nominal);
        }

        wait.Reset();
        Assert.InRange(wait.Next(null).TotalSeconds, 0.5, 1);
    }

    [Fact]
    public void WhatTheServerAsksFor_IsTheLeast_UpToAnHour()
    {
        Assert.Equal(TimeSpan.FromSeconds(90), wait.Next(TimeSpan.FromSeconds(90)));
        Assert.Equal(TimeSpan.FromHours(1), wait.Next(TimeSpan.FromDays(3)));
        Assert.InRange(wait.Next(TimeSpan.Zero).TotalSeconds, 2, 4);
        Assert.InRange(wait.Next(TimeSpan.FromSeconds(-5)).TotalSeconds, 4, 8);
    }
}
