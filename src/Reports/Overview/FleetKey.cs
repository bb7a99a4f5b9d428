using Vanehour.Models.Findings;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Overview;

/// <summary>Explains every mark of the overview, each drawn as it stands in the rows.</summary>
internal static class FleetKey
{
    private const double RowPitch = 20;
    private const double Gap = 16;

    /// <param name="context">Where to draw.</param>
    /// <param name="left">Where both rows start.</param>
    /// <param name="top">The top of the first row.</param>
    public static void Draw(EmbeddedFontContext context, double left, double top)
    {
        var x = left;
        foreach (var urgency in Enum.GetValues<Urgency>())
        {
            UrgencyMark.Draw(context, urgency, x + 6, top + 6);
            Words(17, FindingWords.Of(urgency));
        }

        Words(8, "Provisional: this pump's own flow as new is not known.");

        x = left;
        top += RowPitch;
        var y = top + 6;
        FleetMarks.Wear(context, x, x + 8, x + 16, y, HouseStyle.Data);
        Words(22, "wear, 8 chances in 10");
        FleetMarks.Line(context, x, x + 34, y, provisional: false);
        FleetMarks.Diamond(context, x + 17, y, provisional: false);
        Words(41, "limit, 10, 50 and 90 % chance by");
        FleetMarks.Line(context, x, x + 34, y, provisional: true);
        FleetMarks.Diamond(context, x + 17, y, provisional: true);
        Words(41, "provisional");
        FleetMarks.Line(context, x, x + 14, y, provisional: false);
        FleetMarks.Arrow(context, x + 14, y);
        Words(27, "goes on");

        void Words(double indent, string words)
        {
            context.Text(x + indent, top, words, HouseStyle.Note);
            x += indent + context.Width(words, HouseStyle.Note) + Gap;
        }
    }
}
