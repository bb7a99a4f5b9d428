using SkiaSharp;
using Vanehour.Fleet;
using Vanehour.Fleet.Units;
using Vanehour.Models.Findings;
using Vanehour.Models.VaneWear;
using Vanehour.Reports.Tests.Stories;
using Vanehour.Reports.Trucks;

namespace Vanehour.Reports.Tests;

public class TruckReportTests
{
    [Fact]
    public void Head_SaysWhoseThePageIs()
    {
        var words = Words(new TruckStory().Tell());
        Assert.Contains("Truck T07 · Big Blue", words);
        Assert.Contains("Yard: North yard · Pump RV-400, serial RV4-10233 · fitted 1 Oct 2025", words);
        Assert.Contains("As of 25 Nov 2026 00:00 · dates in America/Chicago", words);
        Assert.Contains("922 h", words);
        Assert.Contains("none", words);
    }

    [Fact]
    public void Axes_AreAllLabelledWithTheirUnits()
    {
        var words = Words(new TruckStory().Tell());
        foreach (var unit in new[] { "h per week", "h, total", "% of new", "inHg", "°F diff.", "qt per h", "wear, 1 = limit" })
        {
            Assert.Contains(unit, words);
        }

        Assert.Contains(words, t => t is "Jan 2026" or "2026");
    }

    [Fact]
    public void Units_ChangeEveryLabelThatHoldsThem()
    {
        var data = new TruckStory().Tell();
        var trade = Words(data);
        var si = Words(data, new ReportOptions { Units = DisplayUnits.Si });
        Assert.Contains("relief wanted 16.0 inHg", trade);
        Assert.Contains("continuous limit 18.0 inHg", trade);
        Assert.Contains("vanes 2.295 in", trade);
        Assert.Contains("relief wanted 54.2 kPa", si);
        Assert.Contains("continuous limit 61.0 kPa", si);
        Assert.Contains("vanes 58.3 mm", si);
        Assert.Contains("K diff.", si);
        Assert.Contains("L per h", si);
        Assert.DoesNotContain(si, t => t.Contains("inHg", StringComparison.Ordinal) || t.Contains('°') || t.Contains("qt", StringComparison.Ordinal));
        Assert.DoesNotContain(trade, t => t.Contains("kPa", StringComparison.Ordinal) || t == "K diff.");
    }

    [Fact]
    public void Forecast_IsSaidInWordsWithItsThreeDates()
    {
        var data = TruckStories.NearLimit.Tell();
        var words = Words(data);
        var limit = data.Wear!.DateOfLimit!;
        var zone = TimeZoneInfo.FindSystemTimeZoneById(data.Truck.TimeZone);
        string Day(DateTimeOffset? at) => TimeZoneInfo.ConvertTime(at!.Value, zone).ToString("d MMM yyyy", System.Globalization.CultureInfo.InvariantCulture);
        Assert.Contains($"Wear limit: 10 % chance by {Day(limit.P10)}, 50 % by {Day(limit.P50)}, 90 % by {Day(limit.P90)}.", words);
        Assert.Contains("50 %", words);
        Assert.Contains("limit: wear 1", words);
    }

    [Theory]
    [InlineData("no-checks", "No start-up check in this pump's life, so vane wear can't be read.")]
    [InlineData("empty", "No wear forecast: the analysis has not covered this truck yet.")]
    [InlineData("empty", "No runs yet.")]
    [InlineData("empty", "No oil readings.")]
    [InlineData("empty", "No temperature readings.")]
    [InlineData("hot", "No oil readings.")]
    [InlineData("single-run", "Too few start-up checks to fit wear (1 so far).")]
    public void NothingToDraw_IsSaidInWords(string story, string sentence) =>
        Assert.Contains(sentence, Words(TruckStories.All[story]()));

    [Fact]
    public void TooYoungToJudge_IsSaidBesideTheTitle() =>
        Assert.Equal(2, Words(TruckStories.Young.Tell()).Count(t => t.EndsWith("too young to judge: no band yet", StringComparison.Ordinal)));

    [Fact]
    public void Findings_AreListedMostUrgentFirstWithSinceAndCause()
    {
        var words = Words(TruckStories.OilStarved.Tell());
        var stop = words.IndexOf("Stop now:");
        Assert.Equal("Oil use low since 16 Nov 2026; likeliest cause: oil line choked (62 %)", words[stop + 1]);
        Assert.Equal("Later:", words[stop + 2]);
        Assert.Equal("Round overdue since 22 Nov 2026, acknowledged; likeliest cause: sensor wrong (62 %)", words[stop + 3]);
    }

    [Fact]
    public void Findings_BeyondTheRoomAreCountedByUrgency() =>
        Assert.Contains("and more: 3 to stop now, 6 this week, 5 later", Words(TruckStories.Hostile.Tell()));

    [Fact]
    public void ServiceRecords_AreLabelledTheEndOfALifeFirstAndRoutineWorkOnce()
    {
        var words = Words(TruckStories.FiveYears.Tell());
        Assert.Contains("rebuild", words);
        Assert.Contains("relief 16.0 inHg", words);
        Assert.Single(words, t => t.StartsWith("inlet filter", StringComparison.Ordinal));
        Assert.Contains("inlet filter (last of 20)", words);
        Assert.Contains(words, t => t.StartsWith('+') && t.EndsWith(" ticks", StringComparison.Ordinal));
    }

    [Fact]
    public void FindingsOfOnePanel_AreEachNamed()
    {
        var told = new TruckStory().Tell();
        FindingKind[] kinds = [FindingKind.OilUseLow, FindingKind.OilUseHigh, FindingKind.RunningHot, FindingKind.CarryOver];
        var words = Words(told with
        {
            Findings = [.. kinds.Select((k, i) => TruckStory.Finding("T07", k, Urgency.Week, told.AsOf.AddDays(-30 + i), Cause.OilLeak))],
        });
        foreach (var label in new[] { "oil use low", "oil use high", "running hot", "carry-over" })
        {
            Assert.Contains("\u2190 " + label, words);
        }
    }

    [Fact]
    public void ReadingsOffTheScale_AreCounted()
    {
        var words = Words(TruckStories.All["extreme"]());
        Assert.Contains(words, t => t.Contains("7 off scale", StringComparison.Ordinal));
    }

    [Fact]
    public void WhatComesAfterTheInstant_IsNotDrawn()
    {
        var data = new TruckStory().Tell();
        var late = data with
        {
            Runs = [.. data.Runs, data.Runs[^1] with { Start = data.AsOf.AddDays(3), End = data.AsOf.AddDays(3.1), HoursH = 9 }],
            Service = [.. data.Service, data.Service[^1] with { At = data.AsOf.AddDays(2), Kind = ServiceKind.Failure }],
        };
        Assert.Equal(TruckReport.Render(data, new ReportOptions()), TruckReport.Render(late, new ReportOptions()));
    }

    [Fact]
    public void UnknownZone_FallsBackToUtcAndSaysSo() =>
        Assert.Contains("As of 25 Nov 2026 06:00 · dates in UTC", Words(new TruckStory { Zone = "No/Such_Zone" }.Tell()));

    [Fact]
    public void Data_PutInkOnThePage()
    {
        var drawn = Count(new TruckStory().Tell());
        var empty = Count(TruckStories.Empty());
        Assert.Equal(0, empty);
        Assert.True(drawn > 5000, $"{drawn} pixels");

        static int Count(TruckReportData data)
        {
            using var bitmap = SKBitmap.Decode(TruckReport.Render(data, new ReportOptions { Scale = 1 }));
            var ink = new SKColor(HouseStyle.Data.R, HouseStyle.Data.G, HouseStyle.Data.B);
            var faint = new SKColor(HouseStyle.DataFaint.R, HouseStyle.DataFaint.G, HouseStyle.DataFaint.B);
            return bitmap.Pixels.Count(p => p == ink || p == faint);
        }
    }

    [Fact]
    public void Silence_BreaksTheLinesAndTheBand()
    {
        Assert.Single(Stretches(new TruckStory()));
        Assert.Equal(2, Stretches(new TruckStory { Silence = (150, 35) }).Count);

        static IReadOnlyList<BandStretch> Stretches(TruckStory story)
        {
            var data = story.Tell();
            var scope = new TruckScope(data, new ReportOptions());
            var readings = data.OilUse!.Points
                .Where(p => p.At >= scope.Time.From)
                .Select(p => Reading.Of(scope.Time, p.At, p.RunHours, p.Seen, p.ExpectedLow, p.Expected, p.ExpectedHigh, v => v));
            return BandStretch.Of(scope, readings, sameJudgement: false);
        }
    }

    [Fact]
    public void Provisional_IsSaid() =>
        Assert.Contains(Words(TruckStories.Provisional.Tell()), t => t.StartsWith("Wear limit (provisional): 10 % chance by", StringComparison.Ordinal));

    [Fact]
    public void QuantilesBeyondTheHorizon_AreSaid() =>
        Assert.Contains(Words(TruckStories.NotReached.Tell()), t => t.EndsWith("; 50 % and 90 %: beyond the horizon.", StringComparison.Ordinal));

    [Fact]
    public void LimitBehindUs_IsSaid()
    {
        var words = Words(new TruckStory { WearPer1000H = 1.3 }.Tell());
        Assert.Contains("Wear limit: with 90 % chance or more passed already.", words);
        Assert.Contains("most likely passed", words);
    }

    [Fact]
    public void Model_NotInTheRegisterLeavesOutItsLines()
    {
        var words = Words(new TruckStory().Tell() with { Model = null });
        Assert.DoesNotContain(words, t => t.StartsWith("relief wanted", StringComparison.Ordinal));
        Assert.Contains("vanes due at 72 %", words);
    }

    [Fact]
    public void PumpRemoved_IsSaid()
    {
        var data = TruckStories.Empty();
        var removed = new ServiceRecord { At = data.AsOf.AddDays(-5), Truck = data.Truck.Id, MeterH = 1300, Kind = ServiceKind.Removed };
        Assert.Contains(Words(data with { Service = [removed] }), t => t.EndsWith("no pump on the truck", StringComparison.Ordinal));
    }

    [Fact]
    public void Data_OfOtherTrucksAndClosedFindingsAreLeftOut()
    {
        var fleet = FleetStory.Twelve();
        var mine = fleet.Told[1];
        var closed = mine.Findings[0] with { Id = "closed", Status = FindingStatus.Closed };
        var snapshot = fleet.Snapshot with { Findings = fleet.Snapshot.Findings.Add(closed) };
        var data = TruckReportData.Of(snapshot, mine.Truck, [TruckStory.Model], mine.Runs, fleet.Told.SelectMany(t => t.Service));
        Assert.Equal(mine.Findings, data.Findings);
        Assert.Same(mine.Wear, data.Wear);
        Assert.Same(mine.OilUse, data.OilUse);
        Assert.Same(mine.TemperatureRise, data.TemperatureRise);
        Assert.Equal(mine.Service, data.Service);
        Assert.Same(TruckStory.Model, data.Model);
    }

    [Theory]
    [InlineData(ForecastStatus.NoChecks)]
    [InlineData(ForecastStatus.TooFewChecks)]
    [InlineData(ForecastStatus.NotReached)]
    public void ForecastWithoutNumbers_StillGivesAPage(ForecastStatus status)
    {
        var data = new TruckStory().Tell();
        var bare = data with { Wear = data.Wear! with { Status = status, Wear = null, HoursToLimit = null, DateOfLimit = null, Fan = [], Checks = [] } };
        Assert.Contains("not known", Words(bare));
    }

    [Fact]
    public void From_MovesTheStartOfTheTimeAxis()
    {
        var data = TruckStories.FiveYears.Tell();
        Assert.Contains("h per month", Words(data));
        Assert.Contains("h per day", Words(data, new ReportOptions { From = data.AsOf.AddDays(-80) }));
        Assert.Contains("h per month", Words(data, new ReportOptions { From = data.AsOf.AddDays(80) }));
    }

    [Fact]
    public void DisplayUnits_DoNotShiftDifferencesOfTemperature()
    {
        Assert.Equal(18, DisplayUnits.Trade.TemperatureDifferenceOf(10), 12);
        Assert.Equal(10, DisplayUnits.Si.TemperatureDifferenceOf(10), 12);

        // NIST SP 811 B.8: 1 inHg (conventional) = 3.386389 kPa, 1 US liquid quart = 0.9463529 L.
        Assert.Equal(1, DisplayUnits.Trade.VacuumOf(3.386389), 6);
        Assert.Equal(1, DisplayUnits.Trade.OilOf(0.9463529), 6);
        Assert.Equal("°F", DisplayUnits.SymbolOf(Unit.Fahrenheit));
        Assert.Equal("inHg", DisplayUnits.SymbolOf(Unit.InchOfMercury));
    }

    private static List<string> Words(TruckReportData data, ReportOptions? options = null)
    {
        using var page = TruckReport.Draw(data, options ?? new ReportOptions());
        return [.. page.Context.Texts.Select(t => t.Text)];
    }
}
