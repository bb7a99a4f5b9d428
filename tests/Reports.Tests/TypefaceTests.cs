using OxyPlot;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Overview;
using Vanehour.Reports.Tests.Stories;
using Vanehour.Reports.Trucks;

namespace Vanehour.Reports.Tests;

/// <summary>Reports draw with the typeface they carry, so that every machine gives the same picture.</summary>
public class TypefaceTests
{
    [Theory]
    [InlineData(400, 400)]
    [InlineData(500, 400)]
    [InlineData(700, 600)]
    public void Face_IsTheEmbeddedOne(double weight, int expected)
    {
        var face = EmbeddedFont.Of(weight);
        Assert.StartsWith("Inter", face.FamilyName, StringComparison.Ordinal);
        Assert.Equal(expected, face.FontWeight);
    }

    [Fact]
    public void Family_AskedForIsPassedOver()
    {
        Assert.Equal(Draw(null), Draw("Arial"));
        Assert.Equal(Draw(null), Draw("no such family"));

        static byte[] Draw(string? family)
        {
            using var page = new Page(200, 60, PageFormat.Pixels(2));
            var size = page.Context.MeasureText("Vacuum 16.0 inHg", family, 14, 400);
            page.Context.DrawText(new ScreenPoint(10 + size.Width, 10), "Vacuum 16.0 inHg", OxyColors.Black, family, 14, 400, 0, HorizontalAlignment.Right);
            return page.ToPng();
        }
    }

    [Fact]
    public void OwnWords_HaveAllTheirLettersInTheTypeface()
    {
        var fleet = FleetStory.Twelve();
        var pages = FleetOverview.Draw(fleet.Snapshot, fleet.Trucks, new ReportOptions())
            .Concat(fleet.Told.Select(t => TruckReport.Draw(t, new ReportOptions())))
            .Append(TruckReport.Draw(TruckStories.Empty(), new ReportOptions { Units = DisplayUnits.Si }))
            .ToList();
        var face = EmbeddedFont.Of(400);
        foreach (var text in pages.SelectMany(p => p.Context.Texts).Select(t => t.Text))
        {
            Assert.All(text.EnumerateRunes(), rune => Assert.True(face.GetGlyph(rune.Value) != 0, $"{rune} in '{text}'"));
        }

        pages.ForEach(p => p.Dispose());
    }

    [Theory]
    [InlineData(0, 10, 20)]
    [InlineData(-90, 10, 20)]
    public void Box_OfATextLiesRoundItsInk(double rotation, double x, double y)
    {
        using var page = new Page(200, 200, PageFormat.Pixels(1));
        page.Context.DrawText(
            new ScreenPoint(x + 60, y + 100),
            "Hxg",
            OxyColors.Black,
            null,
            30,
            400,
            rotation,
            HorizontalAlignment.Center,
            VerticalAlignment.Middle);
        var box = page.Context.Texts[0].Box;
        using var picture = SkiaSharp.SKBitmap.Decode(page.ToPng());
        var ink = 0;
        for (var row = 0; row < picture.Height; row++)
        {
            for (var column = 0; column < picture.Width; column++)
            {
                if (picture.GetPixel(column, row).Red < 128)
                {
                    ink++;
                    Assert.InRange(column, box.Left - 1, box.Right + 1);
                    Assert.InRange(row, box.Top - 1, box.Bottom + 1);
                }
            }
        }

        Assert.True(ink > 100);
    }
}
