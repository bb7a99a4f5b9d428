using OxyPlot;

namespace Vanehour.Reports.Drawing;

/// <summary>Says on a page that its data are not of real trucks.</summary>
internal static class SimulatedMark
{
    private const string Words = "SIMULATED DATA";

    /// <returns>Where the title must end, layout units.</returns>
    public static double Draw(EmbeddedFontContext context, bool simulated, double right, double top)
    {
        if (!simulated)
        {
            return right;
        }

        var width = context.Width(Words, HouseStyle.BodyStrong) + 16;
        context.DrawRectangle(new OxyRect(right - width, top - 2, width, 24), HouseStyle.Paper, HouseStyle.Ink, 2, EdgeRenderingMode.Automatic);
        context.Text(right - width + 8, top + 3, Words, HouseStyle.BodyStrong);
        return right - width - 12;
    }
}
