using OxyPlot;
using SkiaSharp;
using Vanehour.Reports.Drawing;

namespace Vanehour.Reports.Tests.Drawn;

/// <summary>
/// Whether the pictures still look as when somebody last looked at them. A change alarm only: golden output of our own code, which says that
/// something changed, not that it is right. VANEHOUR_REDRAW=1 writes the pictures anew; look at them before they are committed.
/// </summary>
public sealed class ReferencePictureTests
{
    // What is just noticeable between two patches side by side: 2.3 (M. Mahy, L. Van Eycken, A. Oosterlinck, Evaluation of uniform color spaces
    // developed after the adoption of CIELAB and CIELUV, Color Research and Application 19(2), 1994). Another machine's rounding of a colour level
    // stays below 1; a hair line that moves by a pixel is above 5.
    private const double Noticeable = 2.3;

    private static readonly ReportOptions Options = new() { Scale = 1, Simulated = true };

    public static TheoryData<string> Pictures => ["truck: oil-starved", "fleet: 12", "plan: pins, swaps and blocks", "digest: typical", "comparison: four", "rounds: usual", "scores: usual"];

    [Theory]
    [MemberData(nameof(Pictures))]
    public void Picture_LooksAsWhenItWasLastLookedAt(string report)
    {
        using var drawn = PictureDifference.Halved(DrawnReports.All[report]().Png(Options)[0]);
        var file = Path.Combine(Folder(), report.Replace(": ", "-", StringComparison.Ordinal).Replace(",", "", StringComparison.Ordinal).Replace(' ', '-') + ".png");
        if (Environment.GetEnvironmentVariable("VANEHOUR_REDRAW") == "1")
        {
            using var pixels = drawn.PeekPixels();
            using var png = pixels!.Encode(new SKPngEncoderOptions(SKPngEncoderFilterFlags.AllFilters, 9));
            Directory.CreateDirectory(Folder());
            File.WriteAllBytes(file, png!.ToArray());
        }

        Assert.True(File.Exists(file), $"There is no {file}: draw it with VANEHOUR_REDRAW=1, and look at it.");
        using var reference = SKBitmap.Decode(file);
        var difference = PictureDifference.Largest(drawn, reference);
        Assert.True(difference <= Noticeable, $"{report} looks different by {difference:F1}: look at it, and if it is meant, redraw with VANEHOUR_REDRAW=1.");
    }

    // That the alarm can sound: each of these is a change that somebody could make without meaning it.
    [Fact]
    public void Change_IsSeen()
    {
        using var usual = Sketch(20, HouseStyle.Data, "62 %");
        using var same = Sketch(20, HouseStyle.Data, "62 %");
        Assert.Equal(0, PictureDifference.Largest(usual, same));
        foreach (var changed in new[]
        {
            Sketch(21, HouseStyle.Data, "62 %"),
            Sketch(20, HouseStyle.Ink, "62 %"),
            Sketch(20, OxyColor.FromRgb(0x14, 0x46, 0x84), "62 %"),
            Sketch(20, HouseStyle.Data, "63 %"),
        })
        {
            using (changed)
            {
                Assert.True(PictureDifference.Largest(usual, changed) > Noticeable);
            }
        }

        // What nobody sees is no alarm: a colour one level lighter.
        using var level = Sketch(20, OxyColor.FromRgb(0x15, 0x47, 0x7B), "62 %");
        Assert.InRange(PictureDifference.Largest(usual, level), 0.01, Noticeable);
    }

    [Fact]
    public void AnotherSize_IsADifference()
    {
        using var a = new SKBitmap(10, 10);
        using var b = new SKBitmap(10, 12);
        Assert.Equal(double.PositiveInfinity, PictureDifference.Largest(a, b));
    }

    private static SKBitmap Sketch(double labelLeft, OxyColor colour, string label)
    {
        using var page = new Page(120, 60, PageFormat.Pixels(1));
        page.Context.DrawRectangle(new OxyRect(10, 30, 80, 20), colour, OxyColors.Undefined, 0, EdgeRenderingMode.Automatic);
        page.Context.Text(labelLeft, 8, label, HouseStyle.Note);
        return PictureDifference.Halved(page.ToPng());
    }

    // In the sources, not beside the built test: there the pictures are looked at and committed.
    private static string Folder()
    {
        var here = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(here.FullName, "Telemetry.sln")))
        {
            here = here.Parent ?? throw new InvalidOperationException("The test does not run inside the repository.");
        }

        return Path.Combine(here.FullName, "tests", "Reports.Tests", "References");
    }
}
