using OxyPlot;
using Vanehour.Models.Planning;
using Vanehour.Reports.Drawing;

namespace Vanehour.Reports.Planning;

/// <summary>A job in its week: the truck, a bar as long as the chance that its limit comes first, and marks for a pin and a swap.</summary>
internal static class JobChip
{
    private const double Bar = 5;
    private const double Mark = 12;
    private const EdgeRenderingMode Edges = EdgeRenderingMode.Automatic;

    public static void Draw(EmbeddedFontContext context, OxyRect box, PlannedJob job, double highChance) =>
        Draw(context, box, job.Truck, job.ChanceBefore, job.ChanceBefore >= highChance, job.Pinned, job.Swap);

    /// <param name="context">Where to draw.</param>
    /// <param name="box">The place.</param>
    /// <param name="truck">The truck.</param>
    /// <param name="chance">Chance of the limit before the week, 0..1.</param>
    /// <param name="isHigh">Whether that is high.</param>
    /// <param name="isPinned">Whether a person has said so.</param>
    /// <param name="isSwap">Whether a spare is put on.</param>
    public static void Draw(EmbeddedFontContext context, OxyRect box, string truck, double chance, bool isHigh, bool isPinned, bool isSwap)
    {
        context.DrawRectangle(box, isHigh ? HouseStyle.AlarmGround : HouseStyle.Paper, isHigh ? HouseStyle.Alarm : HouseStyle.Ink, isHigh ? 2.4 : 1.2, Edges);
        context.DrawRectangle(new OxyRect(box.Left + 1, box.Bottom - Bar - 1, (box.Width - 2) * Math.Clamp(chance, 0, 1), Bar), isHigh ? HouseStyle.Alarm : HouseStyle.Data, OxyColors.Undefined, 0, Edges);
        var start = box.Left + 4;
        var middle = box.Top + ((box.Height - Bar) / 2);
        if (isPinned)
        {
            context.DrawPolygon([new(start, middle - 5), new(start + 8, middle - 5), new(start + 4, middle + 5)], HouseStyle.Ink, OxyColors.Undefined, 0, Edges);
            start += Mark;
        }

        if (isSwap)
        {
            context.DrawEllipse(new OxyRect(start, middle - 4, 8, 8), HouseStyle.Paper, HouseStyle.Ink, 1.8, Edges);
            start += Mark;
        }

        context.Text(start, middle, context.Shorten(truck, HouseStyle.Label, box.Right - start - 2), HouseStyle.Label, HorizontalAlignment.Left, VerticalAlignment.Middle);
    }
}
