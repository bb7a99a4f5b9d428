using Vanehour.Fleet;
using Vanehour.Fleet.Lives;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Analysis;

namespace Vanehour.Models.Tests.Analysis;

public sealed class LifeClockTests
{
    private static readonly DateTimeOffset Fitted = new(2026, 1, 5, 0, 0, 0, TimeSpan.Zero);

    private static readonly Life Life = new()
    {
        Truck = "T1",
        PumpSerial = "P1",
        PumpModel = "RV-A",
        FittedAt = Fitted,
        MeterAtFittingH = 1000,
    };

    [Fact]
    public void NoRuns_IsZero() => Assert.Equal(0, LifeClock.Build(Life, [], []).TotalH);

    [Fact]
    public void Runs_AddUp_AndAreCountedInside()
    {
        var clock = LifeClock.Build(Life, [Run(8, 2, 1000), Run(12, 1, 1002)], []);
        Assert.Equal(3, clock.TotalH, 9);
        Assert.Equal(0, clock.UnexplainedH, 9);
        Assert.Equal(1, clock.HoursAt(Fitted.AddHours(9)), 9);
        Assert.Equal(2, clock.HoursAt(Fitted.AddHours(11)), 9);
        Assert.Equal(3, clock.HoursAt(Fitted.AddHours(13)), 9);
        Assert.Equal(3, clock.HoursAt(Fitted.AddDays(9)), 9);
        Assert.Equal(0, clock.HoursAt(Fitted.AddDays(-9)));
    }

    [Fact]
    public void MeterAdvancedUnheard_Counts()
    {
        // Fitted at 1000 h; heard first at 1040 h a month later; then 5 h pass unheard within a day.
        var clock = LifeClock.Build(Life, [Run(720, 1, 1040), Run(744, 1, 1046)], []);
        Assert.Equal(47, clock.TotalH, 9);
        Assert.Equal(45, clock.UnexplainedH, 9);
        Assert.Equal(40, clock.HoursAt(Fitted.AddHours(720)), 9);
        Assert.NotEmpty(clock.Remarks);
    }

    [Fact]
    public void MeterReset_CountsRunsAlone()
    {
        var clock = LifeClock.Build(Life, [Run(8, 2, 1000), Run(12, 1, 3), Run(14, 1, 4)], []);
        Assert.Equal(4, clock.TotalH, 9);
        Assert.Contains(clock.Remarks, r => r.Contains("went back 1 times", StringComparison.Ordinal));
    }

    [Fact]
    public void MeterAheadOfTheCalendar_CountsRunsAlone()
    {
        var clock = LifeClock.Build(Life, [Run(8, 2, 1000), Run(12, 1, 9000), Run(14, 1, 9001)], []);
        Assert.Equal(4, clock.TotalH, 9);
        Assert.Contains(clock.Remarks, r => r.Contains("jumped ahead of the calendar 1 times", StringComparison.Ordinal));
    }

    [Fact]
    public void RunsWithoutMeter_AreNotCountedTwice()
    {
        // The second run has no meter; the third shows that exactly its 3 h passed.
        var clock = LifeClock.Build(Life, [Run(8, 2, 1000), Run(12, 3, null), Run(18, 1, 1005)], []);
        Assert.Equal(6, clock.TotalH, 9);
        Assert.Equal(0, clock.UnexplainedH, 9);
    }

    [Fact]
    public void MeterReplaced_GoesOnFromTheNewReading()
    {
        // 2 h run; 4 h unheard up to the replacement at 1006 h; the new meter starts at 10 h; 3 h unheard on it; 1 h run.
        var swap = new ServiceRecord { At = Fitted.AddHours(24), Truck = "T1", MeterH = 1006, Kind = ServiceKind.MeterReplaced, Value = 10, Unit = "h" };
        var clock = LifeClock.Build(Life, [Run(8, 2, 1000), Run(48, 1, 13)], [swap]);
        Assert.Equal(10, clock.TotalH, 9);
        Assert.Empty(clock.Remarks.Where(r => r.Contains("went back", StringComparison.Ordinal)));
    }

    private static Run Run(double startH, double hoursH, double? meterH) => new()
    {
        Truck = "T1",
        Start = Fitted.AddHours(startH),
        End = Fitted.AddHours(startH + hoursH),
        HoursH = hoursH,
        MeterStartH = meterH,
        MeterEndH = meterH + hoursH,
        Quality = new RunQuality(10, 1, []),
    };
}
