using System.Globalization;
using System.Text;
using System.Xml;
using System.Xml.Linq;

namespace Vanehour.Reports.Drawing;

/// <summary>Texts of an SVG: real ones, that can be searched, copied and read aloud.</summary>
internal static class SvgText
{
    /// <summary>The text with every character that XML can't hold, or that would turn what stands beside it, shown as unknown.</summary>
    public static string Clean(string text)
    {
        var clean = new StringBuilder(text.Length);
        foreach (var rune in text.EnumerateRunes())
        {
            var known = rune.IsBmp ? XmlConvert.IsXmlChar((char)rune.Value) && !char.IsControl((char)rune.Value) && !Turns(rune.Value) : true;
            clean.Append(rune.Value is '\n' or '\r' or '\t' ? " " : known ? rune.ToString() : Rune.ReplacementChar.ToString());
        }

        return clean.ToString();
    }

    /// <summary>A line where the library put its number.</summary>
    /// <param name="placed">The library's element.</param>
    /// <param name="line">The line.</param>
    public static XElement Of(XElement placed, DrawnLine line)
    {
        var x = First(placed, "x");
        var y = First(placed, "y");
        var text = Clean(line.Text);
        var element = new XElement(placed.Name);
        if (placed.Attribute("transform")?.Value is { } transform)
        {
            if (Moved(transform) is { } by)
            {
                (x, y) = (x + by.X, y + by.Y);
            }
            else
            {
                element.SetAttributeValue("transform", transform);
            }
        }

        element.SetAttributeValue("x", SvgNumbers.Short(x));
        element.SetAttributeValue("y", SvgNumbers.Short(y));
        element.SetAttributeValue("font-size", SvgNumbers.Short(line.Style.Size));
        element.SetAttributeValue("font-weight", EmbeddedFont.WeightOf(line.Style.Weight) == 400 ? null : EmbeddedFont.WeightOf(line.Style.Weight));
        foreach (var paint in placed.Attributes().Where(a => a.Name.LocalName is "fill" or "fill-opacity"))
        {
            element.SetAttributeValue(paint.Name, paint.Value);
        }

        if (text.EnumerateRunes().Skip(1).Any())
        {
            // Where the reader's machine has no Inter, another typeface keeps to the room that was made for it.
            element.SetAttributeValue("textLength", SvgNumbers.Short(line.Width));
            element.SetAttributeValue("lengthAdjust", "spacingAndGlyphs");
        }

        if (text.StartsWith(' ') || text.EndsWith(' ') || text.Contains("  ", StringComparison.Ordinal))
        {
            element.SetAttributeValue(XNamespace.Xml + "space", "preserve");
        }

        element.Value = text;
        return element;
    }

    /// <summary>The number of the line that the library put there.</summary>
    public static int NumberOf(XElement placed) => int.Parse(placed.Value, NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture);

    // One place for each letter; the first is the line's.
    private static double First(XElement placed, string name) => SvgNumbers.Read(placed.Attribute(name)!.Value.Split(',')[0]);

    private static (double X, double Y)? Moved(string transform)
    {
        const string Translate = "translate(";
        if (!transform.StartsWith(Translate, StringComparison.Ordinal) || transform.IndexOf(')', StringComparison.Ordinal) != transform.Length - 1)
        {
            return null;
        }

        var by = transform[Translate.Length..^1].Split([' ', ','], StringSplitOptions.RemoveEmptyEntries);
        return (SvgNumbers.Read(by[0]), by.Length > 1 ? SvgNumbers.Read(by[1]) : 0);
    }

    private static bool Turns(int value) => value is (>= 0x202A and <= 0x202E) or (>= 0x2066 and <= 0x2069) or 0x200E or 0x200F or 0x061C;
}
