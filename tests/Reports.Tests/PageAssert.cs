using Vanehour.Reports.Drawing;

namespace Vanehour.Reports.Tests;

/// <summary>What holds for every page.</summary>
internal static class PageAssert
{
    /// <summary>No text leaves the page or overlaps another, and there are more than so many.</summary>
    public static void TextsAreClear(Page page, int more = 10)
    {
        var texts = page.Context.Texts;
        Assert.True(texts.Count > more);
        foreach (var text in texts)
        {
            Assert.True(
                text.Box.Left >= 0 && text.Box.Right <= page.Bounds.Right && text.Box.Top >= 0 && text.Box.Bottom <= page.Bounds.Bottom,
                $"'{text.Text}' leaves the page: {text.Box}");
        }

        for (var i = 0; i < texts.Count; i++)
        {
            for (var j = i + 1; j < texts.Count; j++)
            {
                Assert.False(DrawnText.Overlap(texts[i].Box, texts[j].Box), $"'{texts[i].Text}' {texts[i].Box} overlaps '{texts[j].Text}' {texts[j].Box}");
            }
        }
    }
}
