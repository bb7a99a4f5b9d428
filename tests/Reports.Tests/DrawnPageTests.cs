using System.Globalization;
using OxyPlot;
using SkiaSharp;
using Vanehour.Fleet;
using Vanehour.Models.Findings;
using Vanehour.Models.VaneWear;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Overview;
using Vanehour.Reports.Tests.Stories;
using Vanehour.Reports.Trucks;

namespace Vanehour.Reports.Tests;

/// <summary>What holds for every page, whatever the truck.</summary>
public class DrawnPageTests
{
    public static TheoryData<string, bool> Pages()
    {
        var data = new TheoryData<string, bool>();
        foreach (var story in TruckStories.All.Keys)
        {
            data.Add(story, true);
            data.Add(story, false);
        }

        return data;
    }

    public static TheoryData<int> FleetSizes() => [0, 1, 12, 20, 21, 60];

    [Theory]
    [MemberData(nameof(Pages))]
    public void Texts_NeverOverlapNorLeaveTheTruckPage(string story, bool trade)
    {
        using var page = TruckReport.Draw(TruckStories.All[story](), Options(trade));
        PageAssert.TextsAreClear(page);
    }

    [Theory]
    [MemberData(nameof(Pages))]
    public void Texts_OfOurOwnAreNeverCutAndKeysAreWhole(string story, bool trade)
    {
        var data = TruckStories.All[story]();
        using var page = TruckReport.Draw(data, Options(trade));
        var room = page.Bounds.Right - HouseStyle.PageMargin;
        foreach (var panel in TruckReport.Panels(new TruckScope(data, Options(trade))).Where(p => p.Empty is null))
        {
            Assert.NotEmpty(panel.Key);
            Assert.True(
                TruckReport.KeyLeft(page.Context, panel) + PanelKey.Width(page.Context, panel.Key) <= room,
                $"{panel.Title}: {string.Join(", ", panel.Key.Select(k => k.Words))}");
        }

        // What is cut may only be a name or a note from the register that is longer than a line.
        if (story != "hostile")
        {
            Assert.DoesNotContain(page.Context.Texts, t => t.Text.Contains('…'));
        }
    }

    [Theory]
    [InlineData(ForecastStatus.Forecast, 2)]
    [InlineData(ForecastStatus.Provisional, 0)]
    public void Keys_AreWholeWithReadingsOffTheScale(ForecastStatus status, int panelsWithABaseline)
    {
        // A provisional forecast is one without a baseline of the pump's own.
        var told = new TruckStory().Tell();
        var data = told with
        {
            Wear = told.Wear! with
            {
                Status = status,
                Checks = [.. told.Wear.Checks.Select(c => c with { IsBaseline = c.IsBaseline && panelsWithABaseline > 0 }).Select((c, i) => i % 40 == 0 ? c with { Wear = -7, FlowKept = 3, PlateauKPa = 5 } : c)],
            },
        };
        using var page = TruckReport.Draw(data, Options(trade: true));
        var words = page.Context.Texts.Select(t => t.Text).ToList();
        Assert.Equal(3, words.Count(t => t.EndsWith(" off scale", StringComparison.Ordinal)));
        Assert.Equal(panelsWithABaseline, words.Count(t => t == "taken as new"));
        Assert.Contains(status == ForecastStatus.Provisional ? "provisional" : "forecast", words);
        Assert.Contains("the pump's own highest", words);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(2)]
    public void VaneWidths_StandInTheWearPanelWithTheirKey(int count)
    {
        var story = new TruckStory();
        var data = (story with { VaneWidths = [.. Enumerable.Range(0, count).Select(i => new VaneWidth(story.AsOf.AddDays(-40 * (i + 1)), 100 * i, 57 + i, 0.5 - (0.2 * i), 0.03))] }).Tell();
        using var page = TruckReport.Draw(data, Options(trade: true));
        Assert.Equal(count > 0 ? 1 : 0, page.Context.Texts.Count(t => t.Text == "vane width"));
    }

    [Fact]
    public void Texts_OfTheFleetPagesAreNeverCut()
    {
        foreach (var fleet in new[] { FleetStory.Twelve(), FleetStory.Many(60) })
        {
            foreach (var page in FleetOverview.Draw(fleet.Snapshot, fleet.Trucks, Options(trade: true)))
            {
                using (page)
                {
                    Assert.DoesNotContain(page.Context.Texts, t => t.Text.Contains('…'));
                }
            }
        }
    }

    [Theory]
    [MemberData(nameof(FleetSizes))]
    public void Texts_NeverOverlapNorLeaveTheFleetPages(int trucks)
    {
        var fleet = trucks == 12 ? FleetStory.Twelve() : FleetStory.Many(trucks);
        foreach (var page in FleetOverview.Draw(fleet.Snapshot, fleet.Trucks, Options(trade: true)))
        {
            using (page)
            {
                PageAssert.TextsAreClear(page);
            }
        }
    }

    [Fact]
    public void Texts_NeverOverlapOnAFleetPageOfExtremesAndLongNames()
    {
        var told = new[] { TruckStories.Hostile.Tell(), TruckStories.All["extreme"](), TruckStories.All["empty"](), TruckStories.FiveYears.Tell() };
        var fleet = new FleetStory([.. told.Select(t => t.Truck)], told);
        using var page = Assert.Single(FleetOverview.Draw(fleet.Snapshot, fleet.Trucks, Options(trade: true)));
        PageAssert.TextsAreClear(page);
    }

    [Fact]
    public void Texts_NeverOverlapWhateverTheTruck()
    {
        var random = new Random(20261125);
        for (var i = 0; i < 40; i++)
        {
            var life = Math.Exp(random.NextDouble() * 7.5);
            var story = new TruckStory
            {
                Id = FormattableString.Invariant($"R{i}"),
                Seed = i,
                LifeDays = life,
                DaysBefore = random.Next(3) * life * random.NextDouble(),
                WearPer1000H = 0.03 + (3 * Math.Pow(random.NextDouble(), 3)),
                WearSpread = random.NextDouble(),
                ChecksADay = random.NextDouble(),
                MaxRunsADay = random.Next(1, 6),
                Status = (ForecastStatus)random.Next(5),
                OilStarvedDays = random.Next(2) * 60,
                HotDays = random.Next(2) * 90,
                Silence = (random.Next(400), random.Next(200)),
                Findings = [.. Enumerable.Range(0, random.Next(6)).Select(_ => TruckStory.Finding(
                    FormattableString.Invariant($"R{i}"),
                    (FindingKind)random.Next(17),
                    (Urgency)random.Next(3),
                    TruckStory.DefaultAsOf.AddDays(-random.Next(200)),
                    (Cause)random.Next(23)))],
            };
            using var page = TruckReport.Draw(story.Tell(), Options(i % 2 == 0));
            PageAssert.TextsAreClear(page);
        }
    }

    [Theory]
    [InlineData(1, 800, 1100)]
    [InlineData(2, 1600, 2200)]
    [InlineData(2.5, 2000, 2750)]
    public void Picture_HasTheExactSizeAndCanBeDecoded(double scale, int width, int height)
    {
        var png = TruckReport.Render(new TruckStory().Tell(), new ReportOptions { Scale = scale });
        using var bitmap = SKBitmap.Decode(png);
        Assert.Equal((width, height), (bitmap.Width, bitmap.Height));
        using var codec = SKCodec.Create(new MemoryStream(png));
        Assert.Equal(SKEncodedImageFormat.Png, codec.EncodedFormat);
    }

    [Theory]
    [InlineData(0.5)]
    [InlineData(4.1)]
    [InlineData(double.NaN)]
    public void Scale_OutsideItsRangeIsRefused(double scale)
    {
        var options = new ReportOptions { Scale = scale };
        Assert.Throws<ArgumentOutOfRangeException>(() => TruckReport.Render(TruckStories.Empty(), options));
        Assert.Throws<ArgumentOutOfRangeException>(() => FleetOverview.Render(FleetStory.Many(0).Snapshot, [], options));
    }

    [Fact]
    public void SameInput_GivesTheSameBytes()
    {
        var first = TruckReport.Render(TruckStories.OilStarved.Tell(), new ReportOptions());
        var second = TruckReport.Render(TruckStories.OilStarved.Tell(), new ReportOptions());
        Assert.Equal(first, second);
        var fleet = FleetStory.Many(3);
        Assert.Equal(
            FleetOverview.Render(fleet.Snapshot, fleet.Trucks, new ReportOptions()).Single(),
            FleetOverview.Render(fleet.Snapshot, fleet.Trucks, new ReportOptions()).Single());
    }

    [Fact]
    public async Task SameInput_GivesTheSameBytesOnManyThreads()
    {
        var data = new TruckStory().Tell();
        var expected = TruckReport.Render(data, new ReportOptions());
        var pictures = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => Task.Run(() => TruckReport.Render(data, new ReportOptions()))));
        Assert.All(pictures, p => Assert.Equal(expected, p));
    }

    [Fact]
    public void Culture_ChangesNothing()
    {
        var fleet = FleetStory.Twelve();
        var expected = TruckReport.Render(fleet.Told[0], new ReportOptions());
        var expectedFleet = FleetOverview.Render(fleet.Snapshot, fleet.Trucks, new ReportOptions()).Single();
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.CurrentUICulture = new CultureInfo("de-DE");
            Assert.Equal("1,5", 1.5.ToString(CultureInfo.CurrentCulture));
            Assert.Equal(expected, TruckReport.Render(fleet.Told[0], new ReportOptions()));
            Assert.Equal(expectedFleet, FleetOverview.Render(fleet.Snapshot, fleet.Trucks, new ReportOptions()).Single());
        }
        finally
        {
            CultureInfo.CurrentCulture = CultureInfo.CurrentUICulture = before;
        }
    }

    [Fact]
    public void SimulatedData_IsSaidOnEveryPageAndOnlyThen()
    {
        var fleet = FleetStory.Many(25);
        foreach (var (simulated, training) in new[] { (true, false), (false, false), (true, true), (false, true) })
        {
            var options = new ReportOptions { Simulated = simulated, Training = training };
            using var truck = TruckReport.Draw(fleet.Told[0], options);
            var pages = FleetOverview.Draw(fleet.Snapshot, fleet.Trucks, options).Prepend(truck).ToList();
            Assert.Equal(3, pages.Count);
            Assert.All(pages, p => Assert.Equal(simulated && !training, p.Context.Texts.Any(t => t.Text == "SIMULATED DATA")));
            Assert.All(pages, p => Assert.Equal(training, p.Context.Texts.Any(t => t.Text == "TRAINING")));
            pages.ForEach(p => p.Dispose());
        }
    }

    [Fact]
    public void Caution_IsOnEveryPage()
    {
        var fleet = FleetStory.Many(21);
        using var truck = TruckReport.Draw(TruckStories.Empty(), new ReportOptions());
        var pages = FleetOverview.Draw(fleet.Snapshot, fleet.Trucks, new ReportOptions()).Prepend(truck).ToList();
        Assert.All(pages, p =>
        {
            var words = string.Join(' ', p.Context.Texts.Select(t => t.Text));
            Assert.Contains("locked out", words, StringComparison.Ordinal);
            Assert.Contains("manual, local codes and licensed practice come first.", words, StringComparison.Ordinal);
        });
        pages.ForEach(p => p.Dispose());
    }

    [Fact]
    public void FailureInsideAChart_IsThrownAndNotDrawn()
    {
        using var page = new Page(100, 100, PageFormat.Pixels(1));
        var model = new PlotModel();
        model.Series.Add(new FailingSeries());
        Assert.Throws<InvalidOperationException>(() => page.Draw(model, new OxyRect(10, 10, 80, 80), new OxyThickness(10)));
    }

    private static ReportOptions Options(bool trade) =>
        new() { Simulated = trade, Units = trade ? DisplayUnits.Trade : DisplayUnits.Si };

    private sealed class FailingSeries : OxyPlot.Series.LineSeries
    {
        public override void Render(IRenderContext rc) => throw new ArithmeticException("on purpose");
    }
}
