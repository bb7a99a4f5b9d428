using OxyPlot;

namespace Vanehour.Reports.Drawing;

/// <summary>Says on a page that its data are not of real trucks.</summary>
internal static class SimulatedMark
{
    private const string SimulatedWords = "SIMULATED DATA";
    private const string TrainingWords = "TRAINING";

    /// <returns>Where the title must end, layout units.</returns>
    public static double Draw(EmbeddedFontContext context, ReportOptions options, double right, double top)
    {
        if (!options.Simulated && !options.Training)
        {
            return right;
        }

        var words = options.Training ? TrainingWords : SimulatedWords;
        var width = context.Width(words, HouseStyle.BodyStrong) + 16;
        context.DrawRectangle(new OxyRect(right - width, top - 2, width, 24), HouseStyle.Paper, HouseStyle.Ink, 2, EdgeRenderingMode.Automatic);
        context.Text(right - width + 8, top + 3, words, HouseStyle.BodyStrong);
        return right - width - 12;
    }
}
