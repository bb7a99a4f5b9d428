using OxyPlot;
using Vanehour.Models.Rounds;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Rounds;

/// <summary>One round on the sheet: a heading, then a line with a box for each check.</summary>
/// <param name="Heading">The heading.</param>
/// <param name="Items">The checks.</param>
/// <param name="IsNow">Whether findings ask for them: each then says why.</param>
internal sealed record RoundSheetSection(string Heading, IReadOnlyList<RoundItem> Items, bool IsNow)
{
    /// <summary>From one line to the next at most, layout units.</summary>
    public const double WidestPitch = 25;

    private const double Left = HouseStyle.PageMargin;
    private const double Right = HouseStyle.PageWidth - HouseStyle.PageMargin;
    private const double TextLeft = Left + 24;
    private const double DoneLeft = 552;
    private const double DueLeft = 660;
    private const double Box = 12;

    // A heading and the reason of a check take more and less than a line.
    private const double HeadingLines = 1.35;
    private const double ReasonLines = 0.75;

    private static readonly TextStyle Check = new(13, FontWeights.Normal, HouseStyle.Ink);
    private static readonly TextStyle Pressing = new(12.5, FontWeights.Bold, HouseStyle.Ink);
    private static readonly TextStyle Detail = new(12.5, FontWeights.Normal, HouseStyle.Muted);

    /// <summary>Its height in lines.</summary>
    public double Lines => HeadingLines + (Items.Count * (IsNow ? 1 + ReasonLines : 1));

    /// <returns>Where it ends, layout units.</returns>
    public double Draw(EmbeddedFontContext context, TimeZoneInfo zone, double top, double pitch)
    {
        var height = HeadingLines * pitch;
        if (IsNow)
        {
            context.DrawRectangle(
                new OxyRect(Left, top + 3, Right - Left, (Lines * pitch) - 5), HouseStyle.AlarmGround, HouseStyle.Ink, 1.6, EdgeRenderingMode.Automatic);
        }

        var baseLine = top + height - 3;
        var indent = IsNow ? 6 : 0;
        context.Text(
            Left + indent, baseLine, context.Shorten(Heading, HouseStyle.PanelTitle, DoneLeft - Left - 12 - indent), HouseStyle.PanelTitle, HorizontalAlignment.Left, VerticalAlignment.Bottom);
        context.Text(DoneLeft, baseLine, "last done", Detail, HorizontalAlignment.Left, VerticalAlignment.Bottom);
        context.Text(DueLeft, baseLine, "due", Detail, HorizontalAlignment.Left, VerticalAlignment.Bottom);
        top += height;
        foreach (var item in Items)
        {
            Row(context, item, zone, top, pitch);
            top += pitch * (IsNow ? 1 + ReasonLines : 1);
        }

        return top;
    }

    private void Row(EmbeddedFontContext context, RoundItem item, TimeZoneInfo zone, double top, double pitch)
    {
        var middle = top + (pitch / 2);
        var indent = IsNow ? 6 : 0;
        if (!IsNow)
        {
            context.DrawLine([new(Left, top), new(Right, top)], HouseStyle.Grid, HouseStyle.HairLine, EdgeRenderingMode.Automatic);
        }

        DrawBox(context, Left + indent, middle, RoundWords.IsTicked(item));
        var text = item.Check.Text + (item.IfFitted ? " (if fitted)" : string.Empty);
        Put(context, TextLeft + indent, middle, text, Check, DoneLeft);
        Put(context, DoneLeft, middle, RoundWords.Done(item, zone), Detail, DueLeft);
        Put(context, DueLeft, middle, RoundWords.Due(item), item.State is RoundState.Overdue or RoundState.Due or RoundState.PulledForward ? Pressing : Detail, Right);
        if (IsNow && item.Finding is { } finding)
        {
            var why = $"because of {FindingWords.Of(finding.Kind)} since {DateWords.Day(TimeZoneInfo.ConvertTime(finding.Since, zone).DateTime)} (finding {finding.Id})";
            Put(context, TextLeft + indent, top + pitch + (pitch * ReasonLines / 2) - 3, why, Detail, Right);
        }
    }

    private static void Put(EmbeddedFontContext context, double left, double middle, string text, TextStyle style, double right) =>
        context.Text(left, middle, context.Shorten(text, style, right - left - 8), style, HorizontalAlignment.Left, VerticalAlignment.Middle);

    private static void DrawBox(EmbeddedFontContext context, double left, double middle, bool ticked)
    {
        var top = middle - (Box / 2);
        context.DrawRectangle(new OxyRect(left, top, Box, Box), HouseStyle.Paper, HouseStyle.Ink, 1.4, EdgeRenderingMode.Automatic);
        if (ticked)
        {
            context.DrawLine(
                [new(left + 2.5, middle), new(left + 5, middle + 3.5), new(left + Box + 1, top - 2)], HouseStyle.Ink, HouseStyle.DataLine, EdgeRenderingMode.Automatic);
        }
    }
}
