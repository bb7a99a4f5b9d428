using OxyPlot;

namespace Vanehour.Reports.Drawing;

/// <summary>Puts labels where they stay inside their area and clear of every text drawn before.</summary>
internal static class LabelPlacer
{
    // Beside each other labels need more room to read as two than above each other.
    private const double GapBeside = 7;
    private const double GapAbove = 1.5;

    /// <summary>Draws the label at the first spot that is free.</summary>
    /// <param name="context">Where to draw.</param>
    /// <param name="area">The label stays inside.</param>
    /// <param name="text">The label.</param>
    /// <param name="style">How it looks.</param>
    /// <param name="spots">Where it may go, best first.</param>
    /// <returns>The box of the label, or null where no spot was free: then nothing was drawn.</returns>
    public static OxyRect? Place(EmbeddedFontContext context, OxyRect area, string text, TextStyle style, IEnumerable<LabelSpot> spots)
    {
        var size = context.MeasureText(text, null, style.Size, style.Weight);
        foreach (var spot in spots)
        {
            var left = spot.X - (size.Width * (((int)spot.Horizontal + 1) / 2.0));
            var top = spot.Y - (size.Height * (((int)spot.Vertical + 1) / 2.0));
            var box = new OxyRect(left, top, size.Width, size.Height);
            var inside = box.Left >= area.Left && box.Right <= area.Right && box.Top >= area.Top && box.Bottom <= area.Bottom;
            if (!inside || context.Texts.Any(t => DrawnText.Overlap(t.Box, box, GapBeside, GapAbove)))
            {
                continue;
            }

            if (spot.Veil)
            {
                context.DrawRectangle(box.Inflate(2, 1), OxyColor.FromAColor(0xC8, HouseStyle.Paper), OxyColors.Undefined, 0, EdgeRenderingMode.Automatic);
            }

            context.Text(left, top, text, style);
            return box;
        }

        return null;
    }
}
