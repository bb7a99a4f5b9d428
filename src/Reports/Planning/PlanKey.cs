using OxyPlot;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Planning;

/// <summary>Explains the marks of a plan, each drawn as it stands there.</summary>
internal static class PlanKey
{
    private const double Box = 44;
    private const double Height = 22;
    private const EdgeRenderingMode Edges = EdgeRenderingMode.Automatic;

    public static void Draw(EmbeddedFontContext context, double left, double top, double highChance)
    {
        var x = left;
        JobChip.Draw(context, Next(), "T1", 0.25, isHigh: false, isPinned: false, isSwap: false);
        Say("bar: chance of the limit before");
        JobChip.Draw(context, Next(), "T1", 0.7, isHigh: true, isPinned: false, isSwap: false);
        Say($"from {NumberWords.Percent(highChance)}");
        JobChip.Draw(context, Next(), "T1", 0, isHigh: false, isPinned: true, isSwap: false);
        Say("pinned");
        JobChip.Draw(context, Next(), "T1", 0, isHigh: false, isPinned: false, isSwap: true);
        Say("by a spare");
        Free(context, Next());
        Say("free slot");
        Blocked(context, Next());
        Say("blocked");

        OxyRect Next() => new(x, top, Box, Height);

        void Say(string words)
        {
            context.Text(x + Box + 6, top + (Height / 2), words, HouseStyle.Note, HorizontalAlignment.Left, VerticalAlignment.Middle);
            x += Box + 6 + context.Width(words, HouseStyle.Note) + 18;
        }
    }

    public static void Free(EmbeddedFontContext context, OxyRect box) => context.DrawRectangle(box, HouseStyle.Paper, HouseStyle.Grid, 1, Edges);

    public static void Blocked(EmbeddedFontContext context, OxyRect box)
    {
        context.DrawRectangle(box, HouseStyle.Ahead, HouseStyle.Axis, 1, Edges);
        context.DrawLine([new(box.Left, box.Bottom), new(box.Right, box.Top)], HouseStyle.Axis, 1, Edges);
        context.DrawLine([new(box.Left, box.Top), new(box.Right, box.Bottom)], HouseStyle.Axis, 1, Edges);
    }
}
