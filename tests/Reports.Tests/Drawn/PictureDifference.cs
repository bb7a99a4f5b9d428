using SkiaSharp;

namespace Vanehour.Reports.Tests.Drawn;

/// <summary>How different two pictures look: CIE L*a*b* (D65) after a small blur, the mean of 2 x 2 pixels in linear light, so that a letter's edge drawn a level lighter is nothing.</summary>
internal static class PictureDifference
{
    /// <summary>The picture at half its size: each pixel the mean of 2 x 2, in linear light.</summary>
    public static SKBitmap Halved(byte[] png)
    {
        using var full = SKBitmap.Decode(png);
        var half = new SKBitmap(full.Width / 2, full.Height / 2, SKColorType.Rgba8888, SKAlphaType.Opaque);
        var pixels = full.Pixels;
        var halved = new SKColor[half.Width * half.Height];
        for (var y = 0; y < half.Height; y++)
        {
            for (var x = 0; x < half.Width; x++)
            {
                var at = (2 * y * full.Width) + (2 * x);
                SKColor[] four = [pixels[at], pixels[at + 1], pixels[at + full.Width], pixels[at + full.Width + 1]];
                halved[(y * half.Width) + x] = new SKColor(Mean(four, c => c.Red), Mean(four, c => c.Green), Mean(four, c => c.Blue));
            }
        }

        half.Pixels = halved;
        return half;
    }

    /// <summary>The largest difference of two pixels at the same place, CIE 1976 units; infinite where the sizes differ.</summary>
    public static double Largest(SKBitmap a, SKBitmap b)
    {
        if (a.Width != b.Width || a.Height != b.Height)
        {
            return double.PositiveInfinity;
        }

        return a.Pixels.Zip(b.Pixels, (p, q) => p == q ? 0 : Colours.Difference(Colours.Lab(Colours.Linear(p)), Colours.Lab(Colours.Linear(q)))).Max();
    }

    private static byte Mean(SKColor[] colours, Func<SKColor, byte> of) =>
        (byte)Math.Round(255 * Colours.Encoded(colours.Average(c => Colours.Linear(of(c)))));
}
