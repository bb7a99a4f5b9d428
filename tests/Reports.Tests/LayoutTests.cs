using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using OxyPlot;
using OxyPlot.Axes;
using Vanehour.Models.VaneWear;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Time;
using Vanehour.Reports.Trucks;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Tests;

/// <summary>The small parts that pages are laid out with.</summary>
public class LayoutTests
{
    [Property(MaxTest = 5000)]
    public void ValueScale_HoldsItsEndsAndHasFewTicks(double low, double high, byte ticks)
    {
        var wanted = 2 + (ticks % 8);
        var scale = ValueScale.Round(low, high, wanted);
        Assert.True(scale.Low < scale.High);
        Assert.True(scale.Step > 0);
        Assert.InRange((scale.High - scale.Low) / scale.Step, 0.4 * wanted, 1.15 * wanted);
        if (Math.Abs(low) < 1e9 && low < high && high < 1e9)
        {
            Assert.True(scale.Holds(low) && scale.Holds(high));
        }
    }

    [Fact]
    public void ValueScale_IsNotSquashedByOneExtreme()
    {
        var readings = Enumerable.Range(0, 100).Select(i => 60.0 + (i % 10)).Append(1e12).Append(double.NaN);
        var scale = ValueScale.Readings(readings, [], 4);
        Assert.InRange(scale.High, 69, 90);
        Assert.InRange(scale.Low, 45, 60);
    }

    [Theory]
    [InlineData(new[] { 0.0, 0.1, -0.1, 0.2 }, 0.3, 0.4, 1.25)]
    [InlineData(new[] { 0.0, 0.1, 0.2, -7, 0.1, 0.2 }, 0.3, 0.4, 1.25)]
    [InlineData(new[] { 0.8, 0.9, 1.0, 9.0 }, 1.1, 1.9, 1.6)]
    [InlineData(new[] { 1.8, 1.9, 2.0 }, 2.1, 2.3, 2.2)]
    [InlineData(new double[0], 1e9, double.PositiveInfinity, 3.1)]
    public void WearAxis_StaysWhereWearIsRead(double[] checks, double mid, double high, double most)
    {
        var scale = WearPanel.Scale(checks, [new WearFanPoint(DateTimeOffset.UnixEpoch, 100, 0, mid, high)]);
        Assert.InRange(scale.Low, -0.25, -0.05);
        Assert.InRange(scale.High, 1.25, most + 1e-9);
        Assert.True(scale.Holds(1.2));
    }

    [Property]
    public void TimeTicks_AreFewInOrderAndInside(PositiveInt days)
    {
        var start = DateTimeAxis.ToDouble(new DateTime(2024, 2, 27));
        var end = start + 1 + (days.Get * 7 % 20000);
        var ticks = TimeTicks.Between(start, end, 9);
        Assert.InRange(ticks.Count, 1, 11);
        Assert.Equal(ticks.OrderBy(t => t.Days), ticks);
        Assert.All(ticks, t => Assert.InRange(t.Days, start, end));
        Assert.Contains("20", ticks[0].Label, StringComparison.Ordinal);
    }

    [Fact]
    public void TimeTicks_FallOnMondaysAndFirsts()
    {
        var weeks = TimeTicks.Between(DateTimeAxis.ToDouble(new DateTime(2026, 11, 1)), DateTimeAxis.ToDouble(new DateTime(2026, 12, 20)), 9);
        Assert.Equal(["2 Nov 2026", "9 Nov", "16 Nov"], weeks.Take(3).Select(t => t.Label));
        var months = TimeTicks.Between(DateTimeAxis.ToDouble(new DateTime(2026, 5, 20)), DateTimeAxis.ToDouble(new DateTime(2028, 3, 1)), 9);
        Assert.Equal(["Jul 2026", "Oct", "Jan 2027", "Apr", "Jul", "Oct", "Jan 2028"], months.Select(t => t.Label));
    }

    [Fact]
    public void Bins_FollowTheYardsOwnDays()
    {
        var asOf = new DateTimeOffset(2026, 11, 25, 6, 0, 0, TimeSpan.Zero);
        var scale = new TimeScale(TimeScale.Zone("America/Chicago"), asOf.AddDays(-300), asOf, asOf);
        var bins = new TimeBins(scale);
        Assert.Equal(BinKind.Week, bins.Kind);

        // Monday 23 November 05:30 UTC is still Sunday in Chicago.
        Assert.Equal(new DateTime(2026, 11, 16), bins.StartOf(new DateTimeOffset(2026, 11, 23, 5, 30, 0, TimeSpan.Zero)));
        Assert.Equal(new DateTime(2026, 11, 23), bins.StartOf(new DateTimeOffset(2026, 11, 23, 6, 30, 0, TimeSpan.Zero)));
    }

    [Property]
    public void Shorten_NeverThrowsAndAlwaysFits(string? text, PositiveInt width)
    {
        using var page = new Page(100, 20, PageFormat.Pixels(1));
        var room = 20 + (width.Get % 300);
        var shown = page.Context.Shorten(text ?? string.Empty, HouseStyle.Body, room);
        Assert.True(page.Context.Width(shown, HouseStyle.Body) <= room);
        Assert.DoesNotContain(shown, char.IsControl);
    }

    [Theory]
    [InlineData("a\tb\r\nc", "a b  c")]
    [InlineData("x\u202Ey\u200Bz", "xyz")]
    [InlineData("e\u0301\u0301", "e")]
    public void Clean_TakesOutWhatHidesOrTurns(string text, string expected) => Assert.Equal(expected, TextFit.Clean(text));

    [Fact]
    public void Clean_SurvivesHalfACharacter() => Assert.Equal("a\uFFFD", TextFit.Clean("a" + '\uD83D'));

    [Fact]
    public void Wrap_BreaksAtSpacesAndCutsTheLastLine()
    {
        using var page = new Page(100, 20, PageFormat.Pixels(1));
        var lines = page.Context.Wrap(string.Join(' ', Enumerable.Repeat("vacuum", 40)), HouseStyle.Body, 200, 3);
        Assert.Equal(3, lines.Count);
        Assert.All(lines, l => Assert.True(page.Context.Width(l, HouseStyle.Body) <= 200));
        Assert.EndsWith("…", lines[2], StringComparison.Ordinal);
    }

    [Fact]
    public void Label_GoesToTheNextSpotAndIsLeftOutWhereNoneIsFree()
    {
        using var page = new Page(200, 60, PageFormat.Pixels(1));
        var area = new OxyRect(0, 0, 200, 60);
        LabelSpot[] spots = [new(10, 5), new(10, 30)];
        Assert.Equal(5, LabelPlacer.Place(page.Context, area, "one", HouseStyle.Label, spots)!.Value.Top);
        Assert.Equal(30, LabelPlacer.Place(page.Context, area, "two", HouseStyle.Label, spots)!.Value.Top);
        Assert.Null(LabelPlacer.Place(page.Context, area, "three", HouseStyle.Label, spots));
        Assert.Null(LabelPlacer.Place(page.Context, area, "outside", HouseStyle.Label, [new(190, 5)]));
        Assert.Equal(["one", "two"], page.Context.Texts.Select(t => t.Text));
    }

    [Theory]
    [InlineData(1234567, "1\u202F234\u202F567")]
    [InlineData(-0.4, "0")]
    [InlineData(0.5, "1")]
    [InlineData(1e12, "1E+12")]
    [InlineData(double.NaN, "unknown")]
    public void Whole_IsShortAndPlain(double value, string expected) => Assert.Equal(expected, NumberWords.Whole(value));

    [Theory]
    [InlineData(0.30000000000000004, 0.1, "0.3")]
    [InlineData(-1e-17, 0.5, "0.0")]
    [InlineData(2000, 500, "2\u202F000")]
    [InlineData(250000, 50000, "2.5E+5")]
    public void Tick_HasTheDecimalsOfItsStep(double value, double step, string expected) => Assert.Equal(expected, NumberWords.Tick(value, step));
}
