using Vanehour.Fleet;
using Vanehour.Fleet.Lives;
using Vanehour.Models.Findings;

namespace Vanehour.Models.Tests.Findings;

public sealed class FindingContinuationTests
{
    private static readonly DateTimeOffset Day = new(2026, 3, 1, 0, 0, 0, TimeSpan.Zero);
    private static readonly HashSet<FindingKind> Judged = [FindingKind.OilUseHigh];

    [Fact]
    public void New_IsKeptAsItIs()
    {
        var now = Make(Day);
        Assert.Equal(now, Assert.Single(FindingContinuation.Continue([], [now], Judged, Day.AddDays(1))));
    }

    [Fact]
    public void StillThere_KeepsIdSinceAndMark_RenewsTheRest()
    {
        var before = Make(Day) with { Status = FindingStatus.Acknowledged, Note = "acknowledged by A" };
        var now = Make(Day.AddHours(5)) with { Urgency = Urgency.Stop };
        var kept = Assert.Single(FindingContinuation.Continue([before], [now], Judged, Day.AddDays(1)));

        Assert.Equal(before.Id, kept.Id);
        Assert.NotEqual(now.Id, kept.Id);
        Assert.Equal(Day, kept.Since);
        Assert.Equal(FindingStatus.Acknowledged, kept.Status);
        Assert.Equal("acknowledged by A", kept.Note);
        Assert.Equal(Urgency.Stop, kept.Urgency);
    }

    [Fact]
    public void Gone_IsClosed()
    {
        var kept = Assert.Single(FindingContinuation.Continue([Make(Day)], [], Judged, Day.AddDays(9)));
        Assert.Equal(FindingStatus.Closed, kept.Status);
        Assert.Equal(Day.AddDays(9), kept.Closed);
        Assert.Null(kept.CauseFound);
    }

    [Fact]
    public void BackAgainWithinTheSameTrouble_OpensUnderItsId()
    {
        var before = Make(Day) with { Status = FindingStatus.Closed, Closed = Day.AddDays(5) };
        var kept = Assert.Single(FindingContinuation.Continue([before], [Make(Day.AddDays(1))], Judged, Day.AddDays(7)));
        Assert.Equal(before.Id, kept.Id);
        Assert.Equal(FindingStatus.Open, kept.Status);
        Assert.Null(kept.Closed);
    }

    [Fact]
    public void BackAgainLater_IsAnother()
    {
        var before = Make(Day) with { Status = FindingStatus.Closed, Closed = Day.AddDays(5) };
        var kept = Assert.Single(FindingContinuation.Continue([before], [Make(Day.AddDays(6))], Judged, Day.AddDays(7)));
        Assert.NotEqual(before.Id, kept.Id);
    }

    [Fact]
    public void ClosedByAPerson_IsNotOpenedAgain()
    {
        var before = Make(Day) with { Status = FindingStatus.Closed, Closed = Day.AddDays(5), CauseFound = Cause.OilLeak };
        Assert.Empty(FindingContinuation.Continue([before], [], Judged, Day.AddDays(7)));
        var again = Assert.Single(FindingContinuation.Continue([before], [Make(Day.AddDays(5))], Judged, Day.AddDays(7)));
        Assert.NotEqual(before.Id, again.Id);
    }

    [Fact]
    public void ClosedByAPerson_AndShownAtTheSameInstantAgain_KeepsWhatWasFound()
    {
        var before = Make(Day) with { Status = FindingStatus.Closed, Closed = Day.AddDays(5), CauseFound = Cause.OilLeak };
        Assert.Empty(FindingContinuation.Continue([before], [Make(Day)], Judged, Day.AddDays(7)));
    }

    [Fact]
    public void KindsNotJudgedHere_AreLeftAlone() =>
        Assert.Empty(FindingContinuation.Continue([Make(Day) with { Kind = FindingKind.FeedSilent }], [], Judged, Day.AddDays(7)));

    [Fact]
    public void ClosedWithNothingFound_IsNotOpenedAgain()
    {
        var before = Make(Day).Closed(new Verdict(null, "A", null), Day.AddDays(5));
        Assert.Empty(FindingContinuation.Continue([before], [Make(Day)], Judged, Day.AddDays(7)));
        Assert.NotEqual(before.Id, Assert.Single(FindingContinuation.Continue([before], [Make(Day.AddDays(4))], Judged, Day.AddDays(7))).Id);
    }

    [Fact]
    public void Gone_SaysWhetherDataOrAServiceRecordClosedIt()
    {
        var life = new Life { Truck = "T1", PumpSerial = "P1", PumpModel = "M", FittedAt = Day.AddDays(-99), MeterAtFittingH = 0, EndedAt = Day.AddDays(4), EndedBy = ServiceKind.Rebuild };
        var byData = Assert.Single(FindingContinuation.Continue([Make(Day)], [], Judged, Day.AddDays(9), [life with { EndedAt = Day.AddDays(-1) }, life with { Truck = "T2" }]));
        Assert.Equal((FindingClosing.Data, "the data no longer shows it"), (byData.Closing, byData.Note));

        var byRecord = Assert.Single(FindingContinuation.Continue([Make(Day)], [], Judged, Day.AddDays(9), [life]));
        Assert.Equal((FindingClosing.ServiceRecord, "recorded: Rebuild on 2026-03-05"), (byRecord.Closing, byRecord.Note));
    }

    [Fact]
    public void WhatAPersonNoted_StaysWhenTheDataClosesAndOpensIt()
    {
        var seen = Make(Day).Acknowledged("A", "ordered a filter");
        var gone = Assert.Single(FindingContinuation.Continue([seen], [], Judged, Day.AddDays(5)));
        Assert.Equal((FindingStatus.Closed, "A", "ordered a filter"), (gone.Status, gone.AcknowledgedBy, gone.Note));
        var again = Assert.Single(FindingContinuation.Continue([gone], [Make(Day.AddDays(1))], Judged, Day.AddDays(6)));
        Assert.Equal((FindingStatus.Open, seen.Id, "ordered a filter"), (again.Status, again.Id, again.Note));
        Assert.Null(again.Closing);
    }

    private static Finding Make(DateTimeOffset since) => new()
    {
        Id = FindingId.Make(FindingKind.OilUseHigh, "T1", "P1", since),
        Truck = "T1",
        PumpSerial = "P1",
        Kind = FindingKind.OilUseHigh,
        Urgency = Urgency.Week,
        Status = FindingStatus.Open,
        Since = since,
        Evidence = [],
        Causes = [],
        Checks = [],
    };
}
