using OxyPlot;
using OxyPlot.SkiaSharp;
using SkiaSharp;

namespace Vanehour.Reports.Drawing;

/// <summary>
/// Many round marks as shapes. The charting library makes one outline of curves of them, some 1.5 kB a mark; a dot is also a line without length and
/// with round ends, some 15 bytes.
/// </summary>
internal static class VectorDots
{
    public static void Draw(
        SKCanvas canvas, SkiaRenderContext shapes, IList<OxyRect> extents, OxyColor fill, OxyColor stroke, double thickness, EdgeRenderingMode edges)
    {
        // All grounds, then all outlines, as the library does it for pixels.
        if (fill.IsVisible())
        {
            foreach (var alike in extents.GroupBy(e => (float)e.Width))
            {
                using var paint = new SKPaint
                {
                    Style = SKPaintStyle.Stroke,
                    StrokeCap = SKStrokeCap.Round,
                    StrokeWidth = alike.Key,
                    Color = new SKColor(fill.R, fill.G, fill.B, fill.A),
                    IsAntialias = true,
                };
                canvas.DrawPoints(SKPointMode.Points, [.. alike.Select(e => new SKPoint((float)e.Center.X, (float)e.Center.Y))], paint);
            }
        }

        if (stroke.IsVisible() && thickness > 0)
        {
            foreach (var extent in extents)
            {
                shapes.DrawEllipse(extent, OxyColors.Undefined, stroke, thickness, edges);
            }
        }
    }
}
