using OxyPlot;

namespace Vanehour.Reports.Drawing;

/// <summary>A text that was drawn, and the upright box round its letters in layout units.</summary>
/// <param name="Text">The text.</param>
/// <param name="Box">From the height of capitals to the depth of descenders, after rotation.</param>
internal readonly record struct DrawnText(string Text, OxyRect Box)
{
    /// <summary>Whether two boxes come closer than the gaps, in layout units.</summary>
    public static bool Overlap(OxyRect a, OxyRect b, double gapBeside = 0, double gapAbove = 0) =>
        a.Left < b.Right + gapBeside && b.Left < a.Right + gapBeside && a.Top < b.Bottom + gapAbove && b.Top < a.Bottom + gapAbove;
}
