using Vanehour.Fleet;
using Vanehour.Models.Findings;
using Vanehour.Models.Rounds;

namespace Vanehour.Models.Tests.Rounds;

/// <summary>When checks are due, worked by hand. 2 March 2026 is a Monday.</summary>
public sealed class RoundPlannerTests
{
    private static readonly DateOnly Monday = new(2026, 3, 2);

    [Fact]
    public void Weekly_BeforeItsHours_IsDueByTheCalendar_AtLocalMidnight()
    {
        // 4 h a day: 20 h by the next Monday, half of the 40.
        var story = new RoundStory().Works(Monday.AddDays(-28), Monday.AddDays(30));
        story.Marks("weekly; by Ann; all well", story.Local(2026, 3, 2, 17));
        var item = story.Item("inlet_filter", story.Local(2026, 3, 4, 12));

        Assert.Equal((RoundState.Done, RoundDueBy.Calendar, new DateOnly(2026, 3, 9)), (item.State, item.DueBy, item.DueDay));

        // The clocks went forward on 8 March: midnight is 05:00Z, not 06:00Z.
        Assert.Equal(new DateTimeOffset(2026, 3, 9, 5, 0, 0, TimeSpan.Zero), item.DueAt);
        Assert.Equal((RoundEvidence.RoundMark, "Ann"), (item.LastDone!.Evidence, item.LastDone.By));
        Assert.Equal("T1/inlet_filter", item.Key);

        // Done after Monday's run; Tuesday and the first half of Wednesday are 4 h each... the run of Wednesday ends at 12:00.
        Assert.Equal(32, item.HoursLeft!.Value, 6);
        Assert.Equal(RoundState.DueSoon, story.Item("inlet_filter", story.Local(2026, 3, 8, 12)).State);
        Assert.Equal(RoundState.Due, story.Item("inlet_filter", story.Local(2026, 3, 9)).State);
        Assert.Equal(RoundState.DueSoon, story.Item("inlet_filter", story.Local(2026, 3, 9).AddMilliseconds(-1)).State);
    }

    [Fact]
    public void Weekly_WithMuchWork_IsDueByHours_FirstAndOnTheDayTheyAreOver()
    {
        // 12 h a day: 40 h after Monday's round are over on Friday.
        var story = new RoundStory().Works(Monday.AddDays(-28), Monday.AddDays(30), hoursADay: 12);
        story.Marks("weekly", story.Local(2026, 3, 2, 21));

        var before = story.Item("flush", story.Local(2026, 3, 5, 21));
        Assert.Equal((RoundState.DueSoon, RoundDueBy.Hours), (before.State, before.DueBy));
        Assert.Equal(4, before.HoursLeft!.Value, 6);
        Assert.Equal(new DateOnly(2026, 3, 6), before.DueDay);
        var after = story.Item("flush", story.Local(2026, 3, 6, 21));
        Assert.Equal((RoundState.Due, RoundDueBy.Hours, new DateOnly(2026, 3, 6)), (after.State, after.DueBy, after.DueDay));
        Assert.Equal(-8, after.HoursLeft!.Value, 6);
        Assert.Equal("48 PTO h since it was done, every 40", after.Because);

        // More than a quarter over: Monday's 12 h make it 60.
        Assert.True(story.Item("flush", story.Local(2026, 3, 9, 21)).IsOverdue);
    }

    [Fact]
    public void DueByHours_IsSaidAsAReadingOfTheMeter()
    {
        var story = new RoundStory().Works(Monday.AddDays(-28), Monday.AddDays(4));
        story.Marks("weekly", story.Local(2026, 3, 2), meterH: 1080);
        var item = story.Item("flush", story.Local(2026, 3, 6, 20));

        // Twenty working days of 4 h before Monday, five since.
        Assert.Equal(1100, story.MeterH, 6);
        Assert.Equal(20, item.HoursLeft!.Value, 6);
        Assert.Equal(1120, item.DueAtMeterH!.Value, 6);
    }

    [Fact]
    public void AMeterReadingOnTheRecord_CountsBeforeItsDate()
    {
        // Dated by the day alone, but the meter says that it was done after that day's 4 h.
        var story = new RoundStory().Works(Monday.AddDays(-28), Monday.AddDays(4));
        story.Marks("weekly", story.Local(2026, 3, 2), meterH: 1084);
        Assert.Equal(24, story.Item("flush", story.Local(2026, 3, 6, 20)).HoursLeft!.Value, 6);

        // One that cannot be is passed over.
        var typo = new RoundStory().Works(Monday.AddDays(-28), Monday.AddDays(4));
        typo.Marks("weekly", typo.Local(2026, 3, 2), meterH: 108);
        Assert.Equal(20, typo.Item("flush", typo.Local(2026, 3, 6, 20)).HoursLeft!.Value, 6);
    }

    [Fact]
    public void Monthly_CountsAsItsChecks_AndForTheWeeklyOnesItHolds()
    {
        var story = new RoundStory().Works(Monday.AddDays(-28), Monday.AddDays(30), hoursADay: 1);
        story.Marks("weekly", story.Local(2026, 2, 23, 17)).Marks("Monthly round: shut-offs fine", story.Local(2026, 3, 2, 17));
        var now = story.Local(2026, 3, 3, 12);

        Assert.Equal(new DateOnly(2026, 4, 1), story.Item("primary_shutoff", now).DueDay);
        Assert.Equal(new DateOnly(2026, 3, 9), story.Item("inlet_filter", now).DueDay);
        Assert.Equal(new DateOnly(2026, 3, 2), story.Item("flush", now).DueDay);
    }

    [Fact]
    public void ARecordOfTheVeryWork_CountsAsDone()
    {
        var story = new RoundStory().Works(Monday.AddDays(-28), Monday.AddDays(30), hoursADay: 1);
        story.Marks("weekly", story.Local(2026, 2, 23, 17)).Did(ServiceKind.InletFilter, story.Local(2026, 3, 4));
        var item = story.Item("inlet_filter", story.Local(2026, 3, 5, 12));
        Assert.Equal((RoundEvidence.ServiceRecord, new DateOnly(2026, 3, 11)), (item.LastDone!.Evidence, item.DueDay));
        Assert.Equal(new DateOnly(2026, 3, 2), story.Item("flush", story.Local(2026, 3, 5, 12)).DueDay);
    }

    [Fact]
    public void ByHours_AGearboxOilChangeKeepsItself_VaneWidthsDoNot()
    {
        var story = new RoundStory().Works(Monday.AddDays(-28), Monday.AddDays(200), hoursADay: 8);
        story.Did(ServiceKind.GearboxOil, story.Local(2026, 3, 2)).Did(ServiceKind.VaneWidth, story.Local(2026, 3, 2));
        var item = story.Item("gearbox_oil_change", story.Local(2026, 3, 2, 1));

        // 500 h at 8 h a weekday, or 40 h a week, are 87.5 days.
        Assert.Equal((RoundDueBy.Hours, new DateOnly(2026, 5, 28)), (item.DueBy, item.DueDay));
        Assert.Equal(RoundState.NotKept, story.Item("vane_width", story.Local(2026, 3, 2, 1)).State);
    }

    [Theory]
    [InlineData(DriveKind.Direct, false, 0)]
    [InlineData(DriveKind.Hydraulic, false, 1)]
    [InlineData(DriveKind.Gearbox, true, 5)]
    [InlineData(null, null, 5)]
    public void Checks_AreThoseOfTheTrucksConfiguration(DriveKind? drive, bool? deodoriser, int count)
    {
        string[] some = ["coupling", "gearbox_oil", "gearbox_oil_change", "deodoriser_level", "deodoriser_residue"];
        var story = new RoundStory();
        story.Truck = story.Truck with { Drive = drive, Deodoriser = deodoriser };
        var items = story.At(story.Local(2026, 3, 2)).Items.Where(i => some.Contains(i.Check.Key)).ToList();
        Assert.Equal(count, items.Count);
        Assert.All(items, i => Assert.Equal(drive is null, i.IfFitted));
        Assert.Contains(story.At(story.Local(2026, 3, 2)).Items, i => i.Check.Key == "flush_kit" && i.IfFitted);
    }

    [Fact]
    public void AStartUpCheck_TicksItsOwnBox_AndNoOther()
    {
        var story = new RoundStory().Works(Monday.AddDays(-28), Monday, withChecks: true);
        story.Marks("daily", story.Local(2026, 2, 27, 7));
        var now = story.Local(2026, 3, 2, 13);
        var ticked = story.Item("relief_by_startup", now);
        Assert.Equal((RoundState.Done, RoundEvidence.StartUpCheck), (ticked.State, ticked.LastDone!.Evidence));
        Assert.Equal(story.Local(2026, 3, 2, 8).AddMinutes(2), ticked.LastDone.At);
        Assert.Equal(RoundState.Due, story.Item("oil_level", now).State);

        // Also where nobody keeps the round.
        var unkept = new RoundStory().Works(Monday.AddDays(-28), Monday, withChecks: true);
        Assert.Equal(RoundState.Done, unkept.Item("relief_by_startup", now).State);
        Assert.Equal(RoundState.NotKept, unkept.Item("oil_level", now).State);
        Assert.Equal(RoundState.NotKept, unkept.Item("relief_by_startup", now.AddDays(1)).State);
    }

    [Fact]
    public void Daily_CountsOnlyDaysOfWork()
    {
        var story = new RoundStory().Works(Monday.AddDays(-28), new DateOnly(2026, 3, 6)).Works(new DateOnly(2026, 3, 16), new DateOnly(2026, 3, 20));
        story.Marks("daily", story.Local(2026, 3, 6, 7));

        // A Saturday: no work, nothing due before Monday.
        var saturday = story.Item("oil_level", story.Local(2026, 3, 7, 12));
        Assert.Equal((RoundState.Done, new DateOnly(2026, 3, 9)), (saturday.State, saturday.DueDay));

        // The yard's Monday morning, before anything is heard; then a week of holidays; then work again.
        Assert.Equal(RoundState.Due, story.Item("oil_level", story.Local(2026, 3, 9, 5)).State);
        Assert.Equal(RoundState.Resting, story.Item("oil_level", story.Local(2026, 3, 13, 5)).State);
        Assert.Equal(new DateOnly(2026, 3, 16), story.Item("oil_level", story.Local(2026, 3, 16, 20)).DueDay);
        Assert.Equal(RoundState.Due, story.Item("oil_level", story.Local(2026, 3, 17, 20)).State);
        var wednesday = story.Item("oil_level", story.Local(2026, 3, 18, 20));
        Assert.Equal((RoundState.Overdue, true, "2 days of work without it"), (wednesday.State, wednesday.IsOverdue, wednesday.Because));
    }

    [Fact]
    public void ATruckThatIsNotAtWork_OwesNothing_AndHasDaysOfWorkOnceItIsBack()
    {
        var story = new RoundStory().Works(Monday.AddDays(-28), Monday).Works(new DateOnly(2026, 4, 13), new DateOnly(2026, 4, 17));
        story.Marks("weekly, daily", story.Local(2026, 3, 2, 17));
        var silent = story.At(story.Local(2026, 4, 8, 12));
        Assert.Equal("not at work since 2026-03-02", silent.Resting);
        Assert.Equal(RoundState.Resting, silent.Items.Single(i => i.Check.Key == "flush").State);
        Assert.DoesNotContain(silent.Items, i => i.IsOverdue);
        Assert.Null(story.Overdue(story.Local(2026, 4, 8, 12)));

        Assert.Equal(RoundState.Due, story.Item("flush", story.Local(2026, 4, 13, 20)).State);
        Assert.Equal(RoundState.Overdue, story.Item("flush", story.Local(2026, 4, 15, 20)).State);
    }

    [Fact]
    public void InTheShop_OutOfService_WithoutAPump_Rests()
    {
        var now = Monday.AddDays(8);
        var story = new RoundStory().Works(Monday.AddDays(-28), Monday.AddDays(4));
        story.Marks("daily", story.Local(2026, 3, 2, 7)).Did(ServiceKind.Inspection, story.Local(2026, 3, 8));
        Assert.Equal("in the shop since 2026-03-08", story.At(story.Local(now.Year, now.Month, now.Day, 9)).Resting);

        var parked = new RoundStory().Works(Monday.AddDays(-28), Monday.AddDays(7));
        parked.Truck = parked.Truck with { InService = false };
        Assert.Equal("out of service", parked.At(parked.Local(now.Year, now.Month, now.Day, 9)).Resting);

        var bare = new RoundStory().Works(Monday.AddDays(-28), Monday.AddDays(7)).Did(ServiceKind.Removed, story.Local(2026, 3, 9, 20), 1100);
        Assert.Equal("no pump on the truck", bare.At(bare.Local(now.Year, now.Month, now.Day, 9)).Resting);
        Assert.Equal("not heard at work yet", new RoundStory { Options = new RoundOptions { Expect = true } }.At(story.Local(2026, 3, 9)).Resting);
    }

    [Theory]
    [InlineData(FindingKind.RunningHot, "oil_level", "flush_kit", "flush", "inlet_filter")]
    [InlineData(FindingKind.CarryOver, "trap_drained", "primary_shutoff", "secondary_trap", "trap_washout")]
    [InlineData(FindingKind.OilUseLow, "oil_level")]
    [InlineData(FindingKind.LeakOrBlockage, "inlet_filter", "lids", "hoses")]
    [InlineData(FindingKind.ReliefSettingMoved, "relief_settings", "gauge_check")]
    [InlineData(FindingKind.SpeedOutOfRange, "working_speed", "coupling")]
    public void AFinding_PullsItsChecksForward_KeptOrNot(FindingKind kind, params string[] checks)
    {
        var story = new RoundStory().Works(Monday.AddDays(-28), Monday.AddDays(4));
        story.Finds(kind, story.Local(2026, 3, 3, 12));
        var now = story.Local(2026, 3, 4, 12);
        var pulled = story.At(now).Items.Where(i => i.State == RoundState.PulledForward).ToList();
        Assert.Equal(checks, pulled.Select(i => i.Check.Key));
        Assert.All(pulled, i =>
        {
            Assert.Equal((story.Local(2026, 3, 4), RoundDueBy.Finding, kind), (i.DueAt!.Value, i.DueBy!.Value, i.Finding!.Kind));
            Assert.Equal($"{kind} since 2026-03-03 (finding {kind})", i.Because);
        });
        Assert.Equal(checks[0], TruckRounds.InOrder([story.At(now)])[0].Check.Key);
    }

    [Fact]
    public void OnceDoneSince_AFindingNoLongerPulls()
    {
        var story = new RoundStory().Works(Monday.AddDays(-28), Monday.AddDays(4));
        var since = story.Local(2026, 3, 3, 12);
        story.Finds(FindingKind.RunningHot, since).Marks("flush", since.AddHours(-1)).Did(ServiceKind.InletFilter, story.Local(2026, 3, 3));
        var now = story.Local(2026, 3, 4, 12);
        Assert.Equal(RoundState.PulledForward, story.Item("flush", now).State);

        // A record with the day alone counts for a finding of that day.
        Assert.NotEqual(RoundState.PulledForward, story.Item("inlet_filter", now).State);
        story.Marks("flush; by Bo", since.AddHours(1));
        Assert.Equal(RoundState.Done, story.Item("flush", now).State);

        var other = new RoundStory().Works(Monday.AddDays(-28), Monday.AddDays(4));
        other.Finds(FindingKind.RunningHot, since, FindingStatus.Closed).Finds(FindingKind.RunningHot, since, truck: "T2");
        Assert.DoesNotContain(other.At(now).Items, i => i.State == RoundState.PulledForward);
    }

    [Fact]
    public void AMarkOfOneCheck_KeepsThatCheckAlone()
    {
        var story = new RoundStory().Works(Monday.AddDays(-28), Monday.AddDays(30));
        story.Marks("Inlet-filter washed", story.Local(2026, 3, 2, 17));
        var now = story.Local(2026, 3, 20, 12);
        Assert.Equal(["inlet_filter"], story.At(now).Items.Where(i => i.State != RoundState.NotKept).Select(i => i.Check.Key));
        Assert.Null(story.Item("flush", now).DueAt);
    }

    [Fact]
    public void Settings_ChangeDaysAndHours_AndSwitchOff()
    {
        var story = new RoundStory
        {
            Options = new RoundOptions
            {
                Checks = new Dictionary<string, RoundCheckSettings>
                {
                    ["FLUSH"] = new() { Days = 14, Hours = 0 },
                    ["coupling"] = new() { Off = true },
                    ["inlet_filter"] = new() { Hours = 8 },
                },
            },
        };
        Assert.Empty(story.Options.Problems());
        story.Works(Monday.AddDays(-28), Monday.AddDays(30)).Marks("weekly", story.Local(2026, 3, 2, 17));
        var now = story.Local(2026, 3, 4, 20);
        Assert.Equal(new DateOnly(2026, 3, 16), story.Item("flush", now).DueDay);
        Assert.Null(story.Item("flush", now).HoursLeft);
        Assert.Equal((RoundState.Due, RoundDueBy.Hours), (story.Item("inlet_filter", now).State, story.Item("inlet_filter", now).DueBy));
        Assert.DoesNotContain(story.At(now).Items, i => i.Check.Key == "coupling");
    }

    [Theory]
    [InlineData("nonsense", 7, null, "There is no check 'nonsense'; the checks are oil_level, ")]
    [InlineData("flush", -1, null, "flush: Days must be from 0 ")]
    [InlineData("flush", null, double.NaN, "flush: Days must be from 0 ")]
    [InlineData("flush", 0, 0.0, "flush: neither days nor hours are left; switch it Off instead.")]
    [InlineData("oil_level", 2, null, "oil_level: a daily check comes with each day of work;")]
    public void Settings_ThatCannotBeUsed_AreASentence(string key, int? days, double? hours, string expected)
    {
        var options = new RoundOptions { Checks = new Dictionary<string, RoundCheckSettings> { [key] = new() { Days = days, Hours = hours } } };
        Assert.StartsWith(expected, Assert.Single(options.Problems()), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Australia/Sydney", "2026-04-04T13:00:00Z", "2026-04-11T14:00:00Z")]
    [InlineData("America/Chicago", "2026-10-26T05:00:00Z", "2026-11-02T06:00:00Z")]
    [InlineData("America/Santiago", "2026-08-30T04:00:00Z", "2026-09-06T04:00:00Z")]
    public void DueDays_AreWholeLocalDays_AcrossClockChanges(string zone, string done, string due)
    {
        var story = new RoundStory(zone).Works(new DateOnly(2026, 2, 2), new DateOnly(2026, 11, 20), hoursADay: 0.5);
        var at = DateTimeOffset.Parse(done, System.Globalization.CultureInfo.InvariantCulture);
        story.Marks("flush", at);

        // In Santiago midnight of 6 September does not exist: the day begins at 01:00, which is 04:00Z.
        Assert.Equal(DateTimeOffset.Parse(due, System.Globalization.CultureInfo.InvariantCulture), story.Item("flush", at.AddHours(30)).DueAt);
    }
}
