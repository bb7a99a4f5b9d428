using Vanehour.Fleet;
using Vanehour.Models;
using Vanehour.Models.Findings;
using Vanehour.Reports.Overview;
using Vanehour.Reports.Tests.Stories;

namespace Vanehour.Reports.Tests;

public class FleetOverviewTests
{
    [Fact]
    public void Rows_StandInTheOrderOfWhatNeedsDoing()
    {
        var fleet = FleetStory.Of(
        [
            Truck("a", 0.6),
            Truck("b", 0.9),
            Truck("c", 0.3) with { Findings = [TruckStory.Finding("c", FindingKind.OilUseLow, Urgency.Stop, TruckStory.DefaultAsOf, Cause.OilLineChoked)] },
            Truck("d", 0.3) with { Status = Models.VaneWear.ForecastStatus.NoChecks },
            Truck("e", 0.3) with
            {
                Status = Models.VaneWear.ForecastStatus.NoChecks,
                Findings = [TruckStory.Finding("e", FindingKind.RunningHot, Urgency.Week, TruckStory.DefaultAsOf, Cause.CoolingPoor)],
            },
            Truck("f", 0.5) with { Findings = [TruckStory.Finding("f", FindingKind.CarryOver, Urgency.Stop, TruckStory.DefaultAsOf, Cause.CarryOver)] },
        ]);
        Assert.Equal(["f", "c", "b", "a", "e", "d"], FleetRow.Of(fleet.Snapshot, fleet.Trucks).Select(r => r.Truck.Id));

        static TruckStory Truck(string id, double wear) => new() { Id = id, WearPer1000H = wear };
    }

    [Fact]
    public void States_FollowFindingsThenData()
    {
        var rows = Rows(FleetStory.Twelve());
        Assert.Equal(IndicatorState.Low, rows["T03"].Oil);
        Assert.Equal(IndicatorState.Normal, rows["T03"].Temperature);
        Assert.Equal(IndicatorState.High, rows["T04"].Temperature);
        Assert.Equal(IndicatorState.NoData, rows["T04"].Oil);
        Assert.Equal(IndicatorState.Young, rows["T02"].Oil);
    }

    [Fact]
    public void States_OfATruckLongSilentAreUnknown()
    {
        var rows = Rows(FleetStory.Of([new TruckStory { Id = "S", Silence = (45, 45) }]));
        Assert.Equal(IndicatorState.NoData, rows["S"].Oil);
        Assert.Equal(IndicatorState.NoData, rows["S"].Temperature);
    }

    [Theory]
    [InlineData(0, 1)]
    [InlineData(20, 1)]
    [InlineData(21, 2)]
    [InlineData(60, 3)]
    public void Pages_AreAsManyAsNeeded(int trucks, int pages)
    {
        var fleet = FleetStory.Many(trucks);
        var seen = new List<string>();
        var drawn = FleetOverview.Draw(fleet.Snapshot, fleet.Trucks, new ReportOptions()).ToList();
        Assert.Equal(pages, drawn.Count);
        foreach (var page in drawn)
        {
            seen.AddRange(page.Context.Texts.Select(t => t.Text.Split(' ')[0]).Where(t => t.StartsWith("VT-", StringComparison.Ordinal)));
            page.Dispose();
        }

        Assert.Equal(fleet.Trucks.Select(t => t.Id), seen.Order(StringComparer.Ordinal));
    }

    [Fact]
    public void NoTrucks_AreSaidInWords()
    {
        var fleet = FleetStory.Many(2);
        using var page = Assert.Single(FleetOverview.Draw(fleet.Snapshot, [.. fleet.Trucks.Select(t => t with { InService = false })], new ReportOptions()));
        var words = page.Context.Texts.Select(t => t.Text).ToList();
        Assert.Contains("No trucks in service in the register.", words);
        Assert.Contains(words, t => t.EndsWith("2 out of service left out", StringComparison.Ordinal));
    }

    [Fact]
    public void Words_SayWhatTheMarksSay()
    {
        var fleet = FleetStory.Twelve();
        using var page = Assert.Single(FleetOverview.Draw(fleet.Snapshot, fleet.Trucks, new ReportOptions()));
        var words = page.Context.Texts.Select(t => t.Text).ToList();
        foreach (var expected in new[] { "oil use low", "low", "hot", "vanes near limit", "too few checks (4)", "no start-up checks", "beyond horizon", "860 h since fitting" })
        {
            Assert.Contains(expected, words);
        }
    }

    [Fact]
    public void Dates_StandAboveAndBelowAlikeWithTheirYears()
    {
        var fleet = FleetStory.Twelve();
        using var page = Assert.Single(FleetOverview.Draw(fleet.Snapshot, fleet.Trucks, new ReportOptions()));
        var ticks = page.Context.Texts.Where(t => t.Box.Left > FleetColumns.Limit - 40 && t.Box.Right < FleetColumns.Oil - 4 && t.Text.Length <= 4).ToList();
        var (top, bottom) = (ticks.Min(t => t.Box.Top), ticks.Max(t => t.Box.Top));
        var above = ticks.Where(t => t.Box.Top == top).Select(t => (t.Text, t.Box.Left)).ToList();
        Assert.Equal(["now", "2027", "Jul", "2028"], above.Select(t => t.Text).Take(4));
        Assert.Equal(above, ticks.Where(t => t.Box.Top == bottom).Select(t => (t.Text, t.Box.Left)));
    }

    [Fact]
    public void Dates_AreThoseOfTheTrucksOwnPages()
    {
        var late = new DateTimeOffset(2027, 3, 10, 4, 0, 0, TimeSpan.Zero);
        var fleet = FleetStory.Of([new TruckStory { Id = "A", Zone = "America/Chicago" }, new TruckStory { Id = "B", Zone = "UTC" }]);
        var snapshot = fleet.Snapshot with { Wear = [.. fleet.Snapshot.Wear.Select(w => w with { Status = Models.VaneWear.ForecastStatus.Forecast, DateOfLimit = new DateQuantiles(late.AddDays(-9), late, late.AddDays(9)) })] };
        using var page = Assert.Single(FleetOverview.Draw(snapshot, fleet.Trucks, new ReportOptions()));
        var words = page.Context.Texts.Select(t => t.Text).ToList();
        Assert.Contains("9 Mar 2027", words);
        Assert.Contains("10 Mar 2027", words);
        Assert.Contains(words, t => t.EndsWith("dates in each truck's own time zone", StringComparison.Ordinal));
    }

    [Fact]
    public void Quantiles_MissingOnOneSideAreDrawn()
    {
        var fleet = FleetStory.Many(1);
        var told = fleet.Told[0];
        foreach (var limit in new[]
        {
            new DateQuantiles(told.AsOf.AddDays(-30), null, null),
            new DateQuantiles(null, null, told.AsOf.AddDays(40)),
            new DateQuantiles(told.AsOf.AddDays(4000), told.AsOf.AddDays(5000), told.AsOf.AddDays(9000)),
        })
        {
            var snapshot = fleet.Snapshot with { Wear = [told.Wear! with { DateOfLimit = limit }] };
            using var page = Assert.Single(FleetOverview.Draw(snapshot, fleet.Trucks, new ReportOptions()));
            Assert.Contains(page.Context.Texts, t => t.Text.StartsWith(limit.P50 is null ? "beyond horizon" : "3", StringComparison.Ordinal));
        }
    }

    private static Dictionary<string, FleetRow> Rows(FleetStory fleet) =>
        FleetRow.Of(fleet.Snapshot, fleet.Trucks).ToDictionary(r => r.Truck.Id);
}
