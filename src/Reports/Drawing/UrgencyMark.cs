using OxyPlot;
using Vanehour.Models.Findings;

namespace Vanehour.Reports.Drawing;

/// <summary>The mark of an urgency, told apart by shape: a filled square, a filled triangle, a ring.</summary>
internal static class UrgencyMark
{
    private const double R = 6;

    public static void Draw(EmbeddedFontContext context, Urgency urgency, double x, double y)
    {
        switch (urgency)
        {
            case Urgency.Stop:
                context.DrawRectangle(new OxyRect(x - R, y - R, 2 * R, 2 * R), HouseStyle.Alarm, OxyColors.Undefined, 0, EdgeRenderingMode.Automatic);
                break;
            case Urgency.Week:
                context.DrawPolygon([new(x, y - R), new(x + R, y + R), new(x - R, y + R)], HouseStyle.Alarm, OxyColors.Undefined, 0, EdgeRenderingMode.Automatic);
                break;
            default:
                context.DrawEllipse(new OxyRect(x - R + 1, y - R + 1, (2 * R) - 2, (2 * R) - 2), HouseStyle.Paper, HouseStyle.Muted, 1.5, EdgeRenderingMode.Automatic);
                break;
        }
    }
}
