using Vanehour.Models;
using Vanehour.Models.VaneWear;
using Vanehour.Reports.Tests.Stories;
using Vanehour.Reports.Time;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Tests;

/// <summary>The sentence on the date of the limit, for every set of quantiles that is known: days from the instant of the report, or null.</summary>
public class ForecastWordsTests
{
    private static readonly DateTimeOffset AsOf = new(2026, 7, 5, 6, 0, 0, TimeSpan.Zero);

    [Theory]
    [InlineData(30, 60, 90, "Wear limit: 10 % chance by 4 Aug 2026, 50 % by 3 Sep 2026, 90 % by 3 Oct 2026.")]
    [InlineData(30, 60, null, "Wear limit: 10 % chance by 4 Aug 2026, 50 % by 3 Sep 2026; 90 %: beyond the horizon.")]
    [InlineData(30, null, null, "Wear limit: 10 % chance by 4 Aug 2026; 50 % and 90 %: beyond the horizon.")]
    [InlineData(-9, 60, 90, "Wear limit: with 10 % chance or more passed already; 50 % chance by 3 Sep 2026, 90 % by 3 Oct 2026.")]
    [InlineData(-9, 60, null, "Wear limit: with 10 % chance or more passed already; 50 % chance by 3 Sep 2026; 90 %: beyond the horizon.")]
    [InlineData(-9, null, null, "Wear limit: with 10 % chance or more passed already; 50 % and 90 %: beyond the horizon.")]
    [InlineData(-9, -5, 90, "Wear limit: most likely passed already; 90 % chance by 3 Oct 2026.")]
    [InlineData(-9, -5, null, "Wear limit: most likely passed already; 90 %: beyond the horizon.")]
    [InlineData(-9, -5, -1, "Wear limit: with 90 % chance or more passed already.")]
    public void Limit_IsAPlainSentence(int? p10, int? p50, int? p90, string expected) =>
        Assert.Equal(expected, Limit(new DateQuantiles(At(p10), At(p50), At(p90)), ForecastStatus.Forecast));

    [Fact]
    public void Limit_WithoutAnyDateSaysWhatIsKnown()
    {
        Assert.Equal("The wear limit is not reached within the forecast horizon.", Limit(null, ForecastStatus.NotReached));
        Assert.Equal("There is no date for the wear limit yet.", Limit(null, ForecastStatus.Forecast));
        Assert.Equal(
            "Wear limit (provisional): 50 % chance within 1\u202F294 PTO h; no date, since the truck's usage is not known.",
            Limit(new DateQuantiles(null, null, null), ForecastStatus.Provisional, new HourQuantiles(900, 1294, 2000)));
    }

    private static DateTimeOffset? At(int? days) => days is { } d ? AsOf.AddDays(d) : null;

    private static string Limit(DateQuantiles? date, ForecastStatus status, HourQuantiles? hours = null) => ForecastWords.Limit(
        new TruckStory().Tell().Wear! with { DateOfLimit = date, HoursToLimit = hours, Status = status },
        new TimeScale(TimeZoneInfo.Utc, AsOf.AddDays(-100), AsOf, AsOf.AddDays(100)));
}
