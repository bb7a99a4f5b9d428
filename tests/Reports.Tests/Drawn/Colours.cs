using SkiaSharp;

namespace Vanehour.Reports.Tests.Drawn;

/// <summary>Colours as eyes see them.</summary>
/// <remarks>
/// sRGB to XYZ and back: IEC 61966-2-1. L*a*b*: CIE 15, white D65. Contrast: WCAG 2.2, "relative luminance" and "contrast ratio". Colour blindness: G. M.
/// Machado, M. M. Oliveira, L. A. F. Fernandes, A Physiologically-based Model for Simulation of Color Vision Deficiency, IEEE TVCG 15(6), 2009, the
/// matrices of severity 1.0 on linear RGB; the numbers were compared in several public programs that carry them and each row sums to 1.
/// </remarks>
internal static class Colours
{
    public static readonly IReadOnlyDictionary<string, double[][]> Blindness = new Dictionary<string, double[][]>(StringComparer.Ordinal)
    {
        ["none"] = [[1, 0, 0], [0, 1, 0], [0, 0, 1]],
        ["protanopia"] = [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]],
        ["deuteranopia"] = [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]],
        ["tritanopia"] = [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]],
    };

    public static double[] Linear(SKColor colour) => [Linear(colour.Red), Linear(colour.Green), Linear(colour.Blue)];

    public static double Linear(byte level)
    {
        var v = level / 255.0;
        return v <= 0.04045 ? v / 12.92 : Math.Pow((v + 0.055) / 1.055, 2.4);
    }

    public static double Encoded(double linear) => linear <= 0.0031308 ? linear * 12.92 : (1.055 * Math.Pow(linear, 1 / 2.4)) - 0.055;

    public static double[] Lab(double[] linear)
    {
        var x = F(((0.4124564 * linear[0]) + (0.3575761 * linear[1]) + (0.1804375 * linear[2])) / 0.95047);
        var y = F((0.2126729 * linear[0]) + (0.7151522 * linear[1]) + (0.0721750 * linear[2]));
        var z = F(((0.0193339 * linear[0]) + (0.1191920 * linear[1]) + (0.9503041 * linear[2])) / 1.08883);
        return [(116 * y) - 16, 500 * (x - y), 200 * (y - z)];

        static double F(double t) => t > 216.0 / 24389 ? Math.Cbrt(t) : ((24389.0 / 27 * t) + 16) / 116;
    }

    public static double Difference(double[] a, double[] b) => Math.Sqrt(a.Zip(b, (p, q) => (p - q) * (p - q)).Sum());

    public static double[] Seen(double[] linear, string blindness) =>
        [.. Blindness[blindness].Select(row => Math.Clamp(row.Zip(linear, (m, c) => m * c).Sum(), 0, 1))];

    public static double Contrast(double[] a, double[] b)
    {
        var (p, q) = (Luminance(a), Luminance(b));
        return (Math.Max(p, q) + 0.05) / (Math.Min(p, q) + 0.05);
    }

    private static double Luminance(double[] linear) => (0.2126 * linear[0]) + (0.7152 * linear[1]) + (0.0722 * linear[2]);
}
