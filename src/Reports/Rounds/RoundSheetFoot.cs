using OxyPlot;
using Vanehour.Models.Findings;
using Vanehour.Models.Rounds;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Rounds;

/// <summary>The foot of the sheet: who signs, and every caution that goes with a check on it.</summary>
internal static class RoundSheetFoot
{
    private const int MostLines = 9;
    private const double SignHeight = 40;
    private const string Last = "The pump maker's manual, local codes and licensed practice come first. Vanehour advises; it never controls. A tick that is printed was seen in the data or marked today.";

    /// <returns>Where the foot begins, layout units.</returns>
    public static double Draw(Page page, TruckRounds rounds)
    {
        var context = page.Context;
        var left = HouseStyle.PageMargin;
        var right = page.Bounds.Right - HouseStyle.PageMargin;

        // In the order of the table: lock out first.
        var used = rounds.Items.SelectMany(i => i.Check.Cautions).Prepend("LockOut").Prepend("Bleed").ToHashSet(StringComparer.Ordinal);
        var cautions = RoundWords.CautionOrder.Where(used.Contains).Select(name => Knowledge.Default.Cautions[name]);
        var lines = context.Wrap(string.Join(' ', cautions) + " " + Last, HouseStyle.Small, right - left, MostLines);
        var top = page.Bounds.Bottom - HouseStyle.PageMargin - (lines.Count * HouseStyle.Small.LineHeight) - 24 - SignHeight;
        var begin = top;
        var half = (left + right) / 2;
        Blank(context, "Name", left, half - 12, top + 12);
        Blank(context, "Signature", half + 12, right, top + 12);
        top += SignHeight + 4;
        context.DrawLine([new(left, top), new(right, top)], HouseStyle.Ink, 1.4, EdgeRenderingMode.Automatic);
        top += 5;
        context.Text(left, top, "Before any check", HouseStyle.Label);
        top += 17;
        foreach (var line in lines)
        {
            context.Text(left, top, line, HouseStyle.Small);
            top += HouseStyle.Small.LineHeight;
        }

        return begin - 6;
    }

    /// <summary>A word and lines to write on, as many as there is room for.</summary>
    public static void Lines(EmbeddedFontContext context, string word, double top, double bottom)
    {
        const double pitch = 26;
        for (var left = HouseStyle.PageMargin; top + pitch <= bottom; top += pitch)
        {
            Blank(context, word, left, HouseStyle.PageWidth - left, top);
            word = string.Empty;
        }
    }

    /// <summary>A word and a line to write on.</summary>
    public static void Blank(EmbeddedFontContext context, string word, double left, double right, double top)
    {
        context.Text(left, top, word, HouseStyle.Body);
        var begin = word.Length == 0 ? left : left + context.Width(word, HouseStyle.Body) + 8;
        context.DrawLine([new(begin, top + 15), new(right, top + 15)], HouseStyle.Ink, 1, EdgeRenderingMode.Automatic);
    }
}
