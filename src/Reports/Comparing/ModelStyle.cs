using OxyPlot;
using Vanehour.Reports.Drawing;

namespace Vanehour.Reports.Comparing;

/// <summary>How one pump model is told from the others: by dash and marker, either of which is enough, and by colour for those who see it.</summary>
/// <param name="Color">Its colour, dark enough for its name to be written in it. Our own choice.</param>
/// <param name="Dash">Of its lines, in line widths; null for a line without gaps.</param>
/// <param name="Mark">Its marker.</param>
internal sealed record ModelStyle(OxyColor Color, double[]? Dash, ModelMark Mark)
{
    private const double R = 4.5;

    /// <summary>One for each model that fits on a page.</summary>
    public static IReadOnlyList<ModelStyle> All { get; } =
    [
        new(HouseStyle.Data, null, ModelMark.Disc),
        new(HouseStyle.Alarm, [3, 1.5], ModelMark.Square),
        new(OxyColor.FromRgb(0x1E, 0x84, 0x6E), [1, 0.8], ModelMark.Triangle),
        new(OxyColor.FromRgb(0x5B, 0x3A, 0x8C), [4, 1.2, 1, 1.2], ModelMark.Diamond),
        new(HouseStyle.Ink, [6, 2], ModelMark.Cross),
        new(OxyColor.FromRgb(0x8A, 0x65, 0x08), [2, 0.9, 0.7, 0.9, 0.7, 0.9], ModelMark.Plus),
    ];

    /// <summary>A stretch of the model's line with its marker beside it.</summary>
    public void DrawSwatch(EmbeddedFontContext context, double left, double middle, double width)
    {
        context.DrawLine([new(left, middle), new(left + width, middle)], Color, HouseStyle.DataLine, EdgeRenderingMode.Automatic, Dash);
        DrawMark(context, left + width + 10, middle);
    }

    /// <summary>The marker, filled; or open, for what has no limits.</summary>
    public void DrawMark(EmbeddedFontContext context, double x, double y, bool isOpen = false)
    {
        var fill = isOpen ? HouseStyle.Paper : Color;
        switch (Mark)
        {
            case ModelMark.Disc:
                context.DrawEllipse(new OxyRect(x - R, y - R, 2 * R, 2 * R), fill, Color, 1.5, EdgeRenderingMode.Automatic);
                break;
            case ModelMark.Square:
                context.DrawRectangle(new OxyRect(x - R + 0.5, y - R + 0.5, (2 * R) - 1, (2 * R) - 1), fill, Color, 1.5, EdgeRenderingMode.Automatic);
                break;
            case ModelMark.Triangle:
                context.DrawPolygon([new(x, y - R), new(x + R, y + R - 1), new(x - R, y + R - 1)], fill, Color, 1.5, EdgeRenderingMode.Automatic);
                break;
            case ModelMark.Diamond:
                context.DrawPolygon([new(x, y - R - 1), new(x + R + 1, y), new(x, y + R + 1), new(x - R - 1, y)], fill, Color, 1.5, EdgeRenderingMode.Automatic);
                break;
            case ModelMark.Cross:
                Strokes([new(x - R + 1, y - R + 1), new(x + R - 1, y + R - 1), new(x - R + 1, y + R - 1), new(x + R - 1, y - R + 1)]);
                break;
            default:
                Strokes([new(x - R, y), new(x + R, y), new(x, y - R), new(x, y + R)]);
                break;
        }

        // Strokes cannot be open; a ring says it.
        void Strokes(ScreenPoint[] ends)
        {
            context.DrawLineSegments(ends, Color, 2.2, EdgeRenderingMode.Automatic);
            if (isOpen)
            {
                context.DrawEllipse(new OxyRect(x - R - 1, y - R - 1, (2 * R) + 2, (2 * R) + 2), OxyColors.Undefined, Color, 1, EdgeRenderingMode.Automatic);
            }
        }
    }
}
