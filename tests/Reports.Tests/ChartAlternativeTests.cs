using Vanehour.Fleet;
using Vanehour.Reports.Tests.Comparing;
using Vanehour.Reports.Tests.Planning;
using Vanehour.Reports.Tests.Rounds;
using Vanehour.Reports.Tests.Scores;
using Vanehour.Reports.Tests.Stories;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Tests;

/// <summary>What pictures say in words.</summary>
public sealed class ChartAlternativeTests
{
    private static readonly ReportOptions Options = new();

    public static TheoryData<string> Trucks => [.. TruckStories.All.Keys];

    [Fact]
    public void Truck_SaysWearLimitFindingsIndicatorsAndService()
    {
        var said = ChartAlternative.Of(TruckStories.OilStarved.Tell(), Options);
        Assert.StartsWith("Truck T03 as of 25 Nov 2026 00:00, dates in America/Chicago: wear 0.30, 80 % 0.24 to 0.36, where 1 is the limit. Wear limit: 10 % chance by ", said, StringComparison.Ordinal);
        Assert.Contains(" Open findings: oil use low since 16 Nov 2026 (stop now), round overdue since 22 Nov 2026 (later).", said, StringComparison.Ordinal);
        Assert.Matches("Temperature over ambient at the last run on 2[0-9] Nov 2026: [0-9]+ °F, (above|below|within) the expected [0-9]+ to [0-9]+; among the last 20 judged runs [0-9]+ above and [0-9]+ below\\.", said);
        Assert.Matches("Oil use at the last run on 2[0-9] Nov 2026: 0\\.[0-9]+ qt per PTO hour, below the expected 0\\.[0-9]+ to 0\\.[0-9]+; among the last 20 judged runs 0 above and (1[0-9]|20) below\\.", said);
        Assert.EndsWith(" Last service record: hose, 26 Oct 2026.", said, StringComparison.Ordinal);
    }

    [Fact]
    public void Truck_SaysWhyThereIsNoForecastNorJudgement()
    {
        Assert.Contains("No start-up check in this pump's life, so vane wear can't be read.", ChartAlternative.Of(TruckStories.NoChecks.Tell(), Options), StringComparison.Ordinal);
        Assert.Contains("Oil use: no readings.", ChartAlternative.Of(TruckStories.Hot.Tell(), Options), StringComparison.Ordinal);
        Assert.Contains("; nothing to judge it by yet.", ChartAlternative.Of(TruckStories.Young.Tell(), Options), StringComparison.Ordinal);
        var empty = ChartAlternative.Of(TruckStories.Empty(), Options);
        Assert.Contains("No open findings. Temperature over ambient: no readings. Oil use: no readings. No service records.", empty, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Trucks))]
    public void Truck_IsSentencesWhateverTheTruck(string story)
    {
        var said = ChartAlternative.Of(TruckStories.All[story](), Options);
        Assert.EndsWith(".", said, StringComparison.Ordinal);
        Assert.DoesNotContain(said, char.IsControl);
        Assert.DoesNotContain("NaN", said, StringComparison.Ordinal);
        Assert.DoesNotContain("∞", said, StringComparison.Ordinal);
    }

    [Fact]
    public void Fleet_SaysWhatToStopAndWhoIsNext()
    {
        var fleet = FleetStory.Twelve();
        Assert.Equal(
            "As of 25 Nov 2026 06:00 UTC: 12 trucks, 1 to stop now, 2 likely at the limit within 90 days, 2 without a forecast. Stop now: T03 (oil use low). "
            + "Next at the wear limit, most likely: T14 (now), T11 (9 Feb 2027), T12 (27 Mar 2027).",
            ChartAlternative.Of(fleet.Snapshot, fleet.Trucks));
        Assert.StartsWith("As of 25 Nov 2026 06:00 UTC: 0 trucks", ChartAlternative.Of(FleetStory.Many(0).Snapshot, []), StringComparison.Ordinal);
    }

    [Fact]
    public void Plan_SaysJobsWeeksAndWhatToStop()
    {
        var (data, digest) = PlanStories.Of("typical");
        var said = ChartAlternative.Of(data);
        Assert.StartsWith($"{data.Plan.Jobs.Length} rebuilds in 26 weeks from 2026-W23, expected cost ", said, StringComparison.Ordinal);
        Assert.Contains(" Stop first: T01. Next: ", said, StringComparison.Ordinal);
        Assert.Contains($"{data.Plan.Jobs[0].Truck} in {data.Plan.Jobs[0].Week}", said, StringComparison.Ordinal);
        var week = ChartAlternative.Of(digest);
        Assert.StartsWith($"Stop first: T01. Week 2026-W23: {digest.ThisWeek.Length} rebuild", week, StringComparison.Ordinal);
        Assert.EndsWith("1 truck not heard.", week, StringComparison.Ordinal);
        Assert.DoesNotContain("Stop first", ChartAlternative.Of(PlanStories.Of("empty").Data), StringComparison.Ordinal);
    }

    [Fact]
    public void Comparison_SaysModelsAndVerdicts()
    {
        var said = ChartAlternative.Of(ComparisonStories.All["four"]());
        Assert.StartsWith("4 pump models, 120 lives, 46 failures: Alder 400, Birch 230, Cedar 310, Elm 500. Life: Birch 230 lasts longer than Alder 400", said, StringComparison.Ordinal);
        Assert.Contains(" Oil: ", said, StringComparison.Ordinal);
        Assert.Contains(" Wear: ", said, StringComparison.Ordinal);
        Assert.Equal("0 pump models, 0 lives, 0 failures.", ChartAlternative.Of(ComparisonStories.All["none"]()));
        Assert.EndsWith("nothing to compare it with.", ChartAlternative.Of(ComparisonStories.All["one"]()), StringComparison.Ordinal);
    }

    [Fact]
    public void RoundsAndScores_SayWhatTheyCount()
    {
        var rounds = RoundStories.Tell(DriveKind.Gearbox, true, "Ann");
        var said = ChartAlternative.Of(rounds);
        Assert.StartsWith($"Rounds of truck T1, {rounds.Items.Length} checks, as of 10 Mar 2026 10:00. The data asks for now: Pump oil reservoir full, spare oil aboard, ", said, StringComparison.Ordinal);
        Assert.Contains(" Overdue: ", said, StringComparison.Ordinal);
        Assert.Equal(
            "A fleet. OilLineChoked: 9 of 9 found, 6 by fixed thresholds. DischargeCarboned: 3 of 4 found, 0 by fixed thresholds. all: 12 of 13 found, 6 by fixed thresholds.",
            ChartAlternative.Of("A fleet.", ScoreStories.Rows));
    }
}
