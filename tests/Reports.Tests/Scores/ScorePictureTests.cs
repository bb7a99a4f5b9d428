using Vanehour.Reports.Drawing;
using Vanehour.Reports.Scores;

namespace Vanehour.Reports.Tests.Scores;

public sealed class ScorePictureTests
{
    [Fact]
    public void EveryTextIsThere_InsideThePicture_AndNoneOverlaps()
    {
        using var page = ScorePicture.Draw(new string('x', 40) + " trucks, an analysis every 7 days from 2026-01-12 to 2027-01-04. Intervals: 95 %, from resampling trucks.", ScoreStories.Rows, ScoreStories.Measures, PageFormat.Pixels(1));
        var texts = page.Context.Texts;
        Assert.Contains(texts, t => t.Text == "9 of 9 (6)");
        Assert.Contains(texts, t => t.Text == "none judged");
        Assert.All(ScoreStories.Measures, m => Assert.Contains(texts, t => t.Text == m.Findings));
        Assert.All(texts, t => Assert.True(t.Box.Left >= 0 && t.Box.Right <= page.Bounds.Right && t.Box.Bottom <= page.Bounds.Bottom, $"'{t.Text}' leaves the picture."));
        for (var i = 0; i < texts.Count; i++)
        {
            for (var j = 0; j < i; j++)
            {
                Assert.False(DrawnText.Overlap(texts[i].Box, texts[j].Box), $"'{texts[i].Text}' overlaps '{texts[j].Text}'.");
            }
        }
    }

    [Fact]
    public void TheSameInput_GivesTheSameBytes() =>
        Assert.Equal(ScorePicture.Render("a fleet", ScoreStories.Rows, ScoreStories.Measures), ScorePicture.Render("a fleet", ScoreStories.Rows, ScoreStories.Measures));

    [Theory]
    [InlineData(0.5)]
    [InlineData(5)]
    public void AScaleOutsideTheRange_IsRefused(double scale) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => ScorePicture.Render("a fleet", ScoreStories.Rows, ScoreStories.Measures, scale));
}
