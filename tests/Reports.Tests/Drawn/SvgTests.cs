using System.Text.RegularExpressions;
using System.Xml.Linq;
using Vanehour.Reports.Drawing;

namespace Vanehour.Reports.Tests.Drawn;

/// <summary>What every SVG must be to stand inline in a web page under a strict content policy.</summary>
public sealed partial class SvgTests
{
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";
    private static readonly SvgCaption Caption = new() { IdPrefix = "p7", Title = DrawnReports.HostileName, Description = "It says: " + DrawnReports.HostileName };
    private static readonly ReportOptions Options = new() { Simulated = true, Scale = 1 };

    // Presentation attributes and what an accessible picture needs; whatever is not here is looked at before it is let into a web page.
    private static readonly string[] Elements = ["svg", "title", "desc", "g", "clipPath", "path", "rect", "ellipse", "text"];

    private static readonly string[] Attributes =
    [
        "xmlns", "viewBox", "role", "aria-labelledby", "id", "clip-path", "transform", "d", "x", "y", "width", "height", "cx", "cy", "rx", "ry", "fill", "fill-opacity",
        "fill-rule", "stroke", "stroke-width", "stroke-opacity", "stroke-linecap", "stroke-linejoin", "stroke-miterlimit", "font-family", "font-size", "font-weight", "textLength",
        "lengthAdjust", "space",
    ];

    public static TheoryData<string> Reports => [.. DrawnReports.All.Keys];

    [Theory]
    [MemberData(nameof(Reports))]
    public void EverySvg_MayStandInAWebPage(string report)
    {
        foreach (var text in DrawnReports.All[report]().Svg(Options, Caption))
        {
            Assert.StartsWith("<svg ", text, StringComparison.Ordinal);
            var root = XDocument.Parse(text).Root!;
            Assert.Null(root.Attribute("width"));
            Assert.Null(root.Attribute("height"));
            Assert.Equal("img", root.Attribute("role")!.Value);
            Assert.Matches("^0 0 [0-9.]+ [0-9.]+$", root.Attribute("viewBox")!.Value);
            var title = root.Elements(Svg + "title").Single();
            var desc = root.Elements(Svg + "desc").Single();
            Assert.Equal($"{title.Attribute("id")!.Value} {desc.Attribute("id")!.Value}", root.Attribute("aria-labelledby")!.Value);
            Assert.StartsWith(SvgText.Clean(Caption.Title), title.Value, StringComparison.Ordinal);
            Assert.Equal(SvgText.Clean(Caption.Description), desc.Value);
            foreach (var element in root.DescendantsAndSelf())
            {
                Assert.Equal(Svg, element.Name.Namespace);
                Assert.Contains(element.Name.LocalName, Elements);
                Assert.All(element.Attributes(), a => Assert.Contains(a.Name.LocalName, Attributes));
            }

            AssertIdsAreOwn(root, "p7-");
            Assert.Equal(("rect", "white"), (root.Elements().ElementAt(2).Name.LocalName, root.Elements().ElementAt(2).Attribute("fill")!.Value));
            Assert.DoesNotMatch(OnceDangerous(), text);
            Assert.True(text.Length < 400_000, $"{text.Length} characters");
        }
    }

    [Theory]
    [MemberData(nameof(Reports))]
    public void EveryText_ThatThePictureOfPixelsHas_IsATextOfTheSvg(string report)
    {
        var drawn = DrawnReports.All[report]();
        var pages = drawn.Draw(Options, PageFormat.Pixels(1)).ToList();
        var svgs = drawn.Svg(Options, Caption);
        Assert.Equal(pages.Count, svgs.Count);
        foreach (var (page, svg) in pages.Zip(svgs))
        {
            using (page)
            {
                var expected = page.Context.Texts.SelectMany(t => t.Text.Split('\n')).Select(SvgText.Clean);
                Assert.Equal(expected, XDocument.Parse(svg, LoadOptions.PreserveWhitespace).Descendants(Svg + "text").Select(t => t.Value));
            }
        }
    }

    [Theory]
    [MemberData(nameof(Reports))]
    public void TheSameInput_GivesTheSameText(string report) =>
        Assert.Equal(DrawnReports.All[report]().Svg(Options, Caption), DrawnReports.All[report]().Svg(Options, Caption));

    [Fact]
    public async Task TheSameInput_GivesTheSameTextOnManyThreads()
    {
        var drawn = DrawnReports.All["truck: provisional"]();
        var expected = drawn.Svg(Options, Caption);
        Assert.All(await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => Task.Run(() => drawn.Svg(Options, Caption)))), s => Assert.Equal(expected, s));
    }

    [Fact]
    public void SeveralOnAPage_ShareNoId()
    {
        var svgs = DrawnReports.All["fleet: 21"]().Svg(Options, Caption).Concat(DrawnReports.All["truck: hot"]().Svg(Options, Caption with { IdPrefix = "q" })).ToList();
        Assert.Equal(3, svgs.Count);
        var ids = svgs.SelectMany(s => XDocument.Parse(s).Descendants().Attributes("id")).Select(a => a.Value).ToList();
        Assert.Equal(ids.Count, ids.Distinct().Count());
    }

    [Fact]
    public void Dots_BecomePointsWithRoundEnds_AndKeepTheirPlaceAndSize()
    {
        using var page = new Page(100, 50, PageFormat.Vector);
        page.Context.DrawEllipses([new(10, 20, 4, 4), new(30, 20, 4, 4)], HouseStyle.Data, OxyPlot.OxyColors.Undefined, 0, OxyPlot.EdgeRenderingMode.Automatic);
        var path = XDocument.Parse(page.ToSvg(Caption)).Descendants(Svg + "path").Single();
        Assert.Equal("M12 22h0M32 22h0", path.Attribute("d")!.Value);
        Assert.Equal(("4", "round", "#14467A"), (path.Attribute("stroke-width")!.Value, path.Attribute("stroke-linecap")!.Value, path.Attribute("stroke")!.Value));
    }

    [Fact]
    public void WhatLetsSomethingShineThrough_IsNotJoined()
    {
        using var page = new Page(100, 50, PageFormat.Vector);
        var veil = OxyPlot.OxyColor.FromAColor(0x80, HouseStyle.Paper);
        page.Context.DrawRectangle(new(0, 0, 20, 20), veil, OxyPlot.OxyColors.Undefined, 0, OxyPlot.EdgeRenderingMode.Automatic);
        page.Context.DrawRectangle(new(10, 10, 20, 20), veil, OxyPlot.OxyColors.Undefined, 0, OxyPlot.EdgeRenderingMode.Automatic);
        Assert.Equal(2, XDocument.Parse(page.ToSvg(Caption)).Descendants(Svg + "rect").Count(r => r.Attribute("fill-opacity")?.Value == "0.5"));
    }

    [Theory]
    [InlineData("")]
    [InlineData("7a")]
    [InlineData("a b")]
    [InlineData("a\"")]
    [InlineData("a\n")]
    public void IdPrefix_ThatIsNone_IsRefused(string prefix) => Assert.Throws<ArgumentException>(() => Caption with { IdPrefix = prefix });

    [Fact]
    public void FontFiles_AreTheFacesThatAreDrawn()
    {
        foreach (var (file, weight) in new[] { (ReportFonts.Regular, 400), (ReportFonts.SemiBold, 600) })
        {
            using var data = SkiaSharp.SKData.CreateCopy(file.ToArray());
            using var face = SkiaSharp.SKTypeface.FromData(data);
            Assert.StartsWith("Inter", face.FamilyName, StringComparison.Ordinal);
            Assert.Equal(EmbeddedFont.Of(weight).GlyphCount, face.GlyphCount);
        }

        Assert.False(ReportFonts.Regular.Span.SequenceEqual(ReportFonts.SemiBold.Span));
    }

    private static void AssertIdsAreOwn(XElement root, string prefix)
    {
        var ids = root.Descendants().Attributes("id").Select(a => a.Value).ToHashSet(StringComparer.Ordinal);
        Assert.Equal(root.Descendants().Attributes("id").Count(), ids.Count);
        Assert.All(ids, id => Assert.StartsWith(prefix, id, StringComparison.Ordinal));
        foreach (var clip in root.Descendants().Attributes("clip-path").Select(a => a.Value))
        {
            Assert.StartsWith("url(#", clip, StringComparison.Ordinal);
            Assert.Contains(clip[5..^1], ids);
        }
    }

    // As raw text, beside what the parser says: names reach the page escaped, so none of these can be in it at all.
    [GeneratedRegex("<script|<style| style=|href=|url\\((?!#p7-)|<[^>]* on[a-z]+=|<\\?xml|<!", RegexOptions.IgnoreCase)]
    private static partial Regex OnceDangerous();
}
