using System.Globalization;
using System.Text.RegularExpressions;

namespace Vanehour.Reports.Drawing;

/// <summary>Numbers of an SVG, as short as they may be.</summary>
internal static partial class SvgNumbers
{
    // A hundredth of a layout unit is a fiftieth of a pixel in print: nobody sees it.
    private const string Hundredths = "0.##";

    /// <summary>A number with at most two decimals.</summary>
    public static string Short(double value)
    {
        var text = value.ToString(Hundredths, CultureInfo.InvariantCulture);
        return text == "-0" ? "0" : text;
    }

    /// <summary>A text with every number in it shortened.</summary>
    public static string Shorten(string text) => Numbers().Replace(text, m => Short(Read(m.Value)));

    public static double Read(string text) => double.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture);

    [GeneratedRegex("-?[0-9]*\\.?[0-9]+(?:[eE][+-]?[0-9]+)?")]
    private static partial Regex Numbers();
}
