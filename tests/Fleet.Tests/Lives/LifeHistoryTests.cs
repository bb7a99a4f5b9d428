using Vanehour.Fleet.Lives;
using Vanehour.Fleet.Units;

namespace Vanehour.Fleet.Tests.Lives;

public class LifeHistoryTests
{
    private static readonly DateTimeOffset Day0 = new(2026, 1, 5, 6, 0, 0, TimeSpan.Zero);

    [Fact]
    public void WithoutRecordsTheRegisteredPumpRuns()
    {
        var life = Assert.Single(LifeHistory.Build(Truck(), []));
        Assert.Equal("A1", life.PumpSerial);
        Assert.Equal(1000, life.MeterAtFittingH);
        Assert.Null(life.EndedAt);
        Assert.True(life.Covers(Day0));
        Assert.False(life.Covers(Day0.AddMilliseconds(-1)));
    }

    [Fact]
    public void RebuildEndsOneLifeAndStartsTheNextWithTheSamePump()
    {
        var lives = LifeHistory.Build(Truck(), [Record(10, 1500, ServiceKind.Rebuild)]);
        Assert.Equal(2, lives.Count);
        Assert.Equal(ServiceKind.Rebuild, lives[0].EndedBy);
        Assert.Equal(1500, lives[0].MeterAtEndH);
        Assert.Equal("A1", lives[1].PumpSerial);
        Assert.Equal(1500, lives[1].MeterAtFittingH);
        Assert.False(lives[0].Covers(lives[1].FittedAt));
    }

    [Fact]
    public void RemovedThenFittedSwapsThePump()
    {
        var lives = LifeHistory.Build(
            Truck(),
            [
                Record(10, 1500, ServiceKind.Removed),
                Record(10, 1500, ServiceKind.Fitted) with { PumpSerial = "B2", PumpModel = "Other" },
            ]);
        Assert.Equal(["A1", "B2"], lives.Select(l => l.PumpSerial));
        Assert.Equal("Other", lives[1].PumpModel);
    }

    [Fact]
    public void AfterARemovalNoPumpIsOnTheTruck()
    {
        var life = Assert.Single(LifeHistory.Build(Truck(), [Record(10, 1500, ServiceKind.Removed)]));
        Assert.Equal(ServiceKind.Removed, life.EndedBy);
    }

    [Fact]
    public void RebuildRightAfterAFailureIsTheRepair()
    {
        var lives = LifeHistory.Build(Truck(), [Record(12, 1500, ServiceKind.Rebuild), Record(10, 1500, ServiceKind.Failure)]);
        Assert.Equal(2, lives.Count);
        Assert.Equal(ServiceKind.Failure, lives[0].EndedBy);
        Assert.Equal(Day0.AddDays(12), lives[1].FittedAt);
        Assert.Null(lives[1].EndedBy);
    }

    [Fact]
    public void RebuildAfterHoursOfRunningIsALifeOfItsOwn()
    {
        var lives = LifeHistory.Build(Truck(), [Record(10, 1500, ServiceKind.Failure), Record(40, 1600, ServiceKind.Rebuild)]);
        Assert.Equal([ServiceKind.Failure, ServiceKind.Rebuild, null], lives.Select(l => l.EndedBy));
    }

    [Fact]
    public void AFittingWithoutARemovalSaysThatTheOldPumpCameOff()
    {
        var lives = LifeHistory.Build(Truck(), [Record(10, 1500, ServiceKind.Fitted) with { PumpSerial = "B2", PumpModel = "M" }]);
        Assert.Equal(ServiceKind.Removed, lives[0].EndedBy);
        Assert.Equal("B2", lives[1].PumpSerial);
    }

    [Fact]
    public void RecordsBeforeTheFittingAndOfOtherTrucksArePassedOver()
    {
        var lives = LifeHistory.Build(
            Truck(), [Record(-5, 900, ServiceKind.Rebuild), Record(5, 1100, ServiceKind.Rebuild) with { Truck = "T2" }]);
        Assert.Single(lives);
    }

    private static Truck Truck() => new()
    {
        Id = "T1",
        Yard = "North",
        PumpModel = "M",
        PumpSerial = "A1",
        PumpFitted = Day0,
        MeterAtFittingH = 1000,
        TankVolume = Volume.FromGallons(3000),
        TimeZone = "Etc/UTC",
    };

    private static ServiceRecord Record(int day, double meterH, ServiceKind kind) =>
        new() { At = Day0.AddDays(day), Truck = "T1", MeterH = meterH, Kind = kind };
}
