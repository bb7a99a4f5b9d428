using System.Text.Json;
using Vanehour.Models.Planning;

namespace Vanehour.Models.Tests.Planning;

public class PlanWeekTests
{
    /// <summary>ISO 8601: week 1 holds the year's first Thursday; 2026 begins on a Thursday and so has 53 weeks.</summary>
    [Theory]
    [InlineData("2026-01-01", "2026-W01")]
    [InlineData("2025-12-29", "2026-W01")]
    [InlineData("2027-01-03", "2026-W53")]
    [InlineData("2027-01-04", "2027-W01")]
    [InlineData("2024-12-30", "2025-W01")]
    public void Week_IsByIso8601(string day, string week) => Assert.Equal(week, PlanWeek.Of(DateOnly.Parse(day, System.Globalization.CultureInfo.InvariantCulture)).ToString());

    [Fact]
    public void Weeks_GoOnOverTheYear()
    {
        Assert.True(PlanWeek.TryParse("2026-W52", out var week));
        Assert.Equal("2027-W01", week.Plus(2).ToString());
        Assert.Equal(2, week.Plus(2).WeeksAfter(week));
        Assert.Equal(new DateOnly(2026, 12, 21), week.Monday);
    }

    [Theory]
    [InlineData("2027-W53")]
    [InlineData("2027-W00")]
    [InlineData("2027W05")]
    [InlineData("2027-5")]
    [InlineData("")]
    [InlineData(null)]
    public void WhatIsNoWeek_IsRefused(string? text) => Assert.False(PlanWeek.TryParse(text, out _));

    [Fact]
    public void Week_IsTextInJson()
    {
        Assert.True(PlanWeek.TryParse("2027-W05", out var week));
        Assert.Equal("\"2027-W05\"", JsonSerializer.Serialize(week));
        Assert.Equal(week, JsonSerializer.Deserialize<PlanWeek>("\"2027-W05\""));
        Assert.Throws<JsonException>(() => JsonSerializer.Deserialize<PlanWeek>("\"soon\""));
    }
}
