using System.Globalization;
using System.Text;
using OxyPlot;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Drawing;

/// <summary>Makes texts from the register fit where they go.</summary>
internal static class TextFit
{
    private const string Ellipsis = "…";

    /// <summary>The text on one line without control, direction or private characters, which could hide or turn what stands beside them.</summary>
    public static string Clean(string text)
    {
        var clean = new StringBuilder(text.Length);
        foreach (var rune in text.EnumerateRunes())
        {
            if (rune.Value == NumberWords.ThinSpace)
            {
                clean.Append(NumberWords.ThinSpace);
                continue;
            }

            switch (Rune.GetUnicodeCategory(rune))
            {
                case UnicodeCategory.Control:
                case UnicodeCategory.LineSeparator:
                case UnicodeCategory.ParagraphSeparator:
                case UnicodeCategory.SpaceSeparator:
                    clean.Append(' ');
                    break;
                case UnicodeCategory.Format:
                case UnicodeCategory.PrivateUse:
                case UnicodeCategory.NonSpacingMark:
                case UnicodeCategory.EnclosingMark:
                    break;
                default:
                    clean.Append(rune.ToString());
                    break;
            }
        }

        return clean.ToString().Trim();
    }

    public static double Width(this EmbeddedFontContext context, string text, TextStyle style) =>
        context.MeasureText(text, null, style.Size, style.Weight).Width;

    /// <summary>The text, cut with an ellipsis where it is wider than <paramref name="width"/>.</summary>
    public static string Shorten(this EmbeddedFontContext context, string text, TextStyle style, double width)
    {
        text = Clean(text);
        if (context.Width(text, style) <= width)
        {
            return text;
        }

        var starts = StringInfo.ParseCombiningCharacters(text);
        var low = 0;
        var high = starts.Length - 1;
        while (low < high)
        {
            var mid = (low + high + 1) / 2;
            if (context.Width(text[..starts[mid]].TrimEnd() + Ellipsis, style) <= width)
            {
                low = mid;
            }
            else
            {
                high = mid - 1;
            }
        }

        return text[..starts[low]].TrimEnd() + Ellipsis;
    }

    /// <summary>The text broken at spaces into at most <paramref name="lines"/> lines, the last cut where it does not fit.</summary>
    public static IReadOnlyList<string> Wrap(this EmbeddedFontContext context, string text, TextStyle style, double width, int lines)
    {
        var result = new List<string>();
        var rest = Clean(text);
        while (rest.Length > 0 && result.Count < lines - 1 && context.Width(rest, style) > width)
        {
            var cut = rest.LastIndexOf(' ');
            while (cut > 0 && context.Width(rest[..cut], style) > width)
            {
                cut = rest.LastIndexOf(' ', cut - 1);
            }

            if (cut <= 0)
            {
                break;
            }

            result.Add(rest[..cut]);
            rest = rest[(cut + 1)..];
        }

        if (rest.Length > 0)
        {
            result.Add(context.Shorten(rest, style, width));
        }

        return result;
    }

    public static void Text(
        this EmbeddedFontContext context,
        double x,
        double y,
        string text,
        TextStyle style,
        HorizontalAlignment horizontal = HorizontalAlignment.Left,
        VerticalAlignment vertical = VerticalAlignment.Top,
        double rotation = 0) =>
        context.DrawText(new ScreenPoint(x, y), text, style.Color, null, style.Size, style.Weight, rotation, horizontal, vertical);
}
