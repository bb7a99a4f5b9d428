using System.Globalization;
using OxyPlot;
using OxyPlot.SkiaSharp;
using SkiaSharp;

namespace Vanehour.Reports.Drawing;

/// <summary>
/// Draws shapes through the charting library and text itself, with the embedded typeface whatever family is asked for. It remembers where each
/// text went, so that labels can keep clear of each other and tests can see that they do.
/// </summary>
internal sealed class EmbeddedFontContext : IRenderContext, IDisposable
{
    // Of Inter: the height of tall letters over the base line and the depth of descenders, in type sizes.
    private const double Rise = 0.76;
    private const double Depth = 0.22;
    private const double LinePitch = 1.25;

    private readonly SkiaRenderContext shapes;
    private readonly SKCanvas canvas;
    private readonly float scale;
    private readonly bool isVector;
    private readonly List<DrawnText> texts = [];
    private readonly List<DrawnLine> lines = [];
    private readonly Dictionary<(double Size, bool Bold), SKFont> fonts = [];

    public EmbeddedFontContext(SKCanvas canvas, PageFormat format)
    {
        this.canvas = canvas;
        scale = (float)format.Scale;
        isVector = format.IsVector;
        shapes = new SkiaRenderContext
        {
            RenderTarget = isVector ? RenderTarget.VectorGraphic : RenderTarget.PixelGraphic,
            SkCanvas = canvas,
            UseTextShaping = false,
            DpiScale = this.scale,
        };
    }

    /// <summary>Every text drawn so far, in order.</summary>
    public IReadOnlyList<DrawnText> Texts => texts;

    /// <summary>The lines of text of a page of shapes, in order.</summary>
    public IReadOnlyList<DrawnLine> Lines => lines;

    public int ClipCount => shapes.ClipCount;

    public bool RendersToScreen => false;

    public OxySize MeasureText(string text, string? fontFamily = null, double fontSize = 10, double fontWeight = 500)
    {
        if (string.IsNullOrEmpty(text))
        {
            return OxySize.Empty;
        }

        var lines = text.Split('\n');
        var font = Font(fontSize, fontWeight);
        return new OxySize(lines.Max(l => font.MeasureText(l)) / scale, (Rise + Depth + ((lines.Length - 1) * LinePitch)) * fontSize);
    }

    public void DrawText(
        ScreenPoint p,
        string text,
        OxyColor fill,
        string? fontFamily = null,
        double fontSize = 10,
        double fontWeight = 500,
        double rotation = 0,
        HorizontalAlignment horizontalAlignment = HorizontalAlignment.Left,
        VerticalAlignment verticalAlignment = VerticalAlignment.Top,
        OxySize? maxSize = null)
    {
        if (string.IsNullOrEmpty(text) || !fill.IsVisible())
        {
            return;
        }

        var size = MeasureText(text, fontFamily, fontSize, fontWeight);
        var left = -size.Width * Fraction((int)horizontalAlignment);
        var top = -size.Height * Fraction((int)verticalAlignment);
        texts.Add(new DrawnText(text, BoxOf(p, left, top, size, rotation)));

        using var paint = new SKPaint { Color = new SKColor(fill.R, fill.G, fill.B, fill.A), IsAntialias = true };
        var font = Font(fontSize, fontWeight);
        var saved = canvas.Save();
        canvas.Translate((float)p.X * scale, (float)p.Y * scale);
        canvas.RotateDegrees((float)rotation);
        var baseLine = top + (Rise * fontSize);
        foreach (var line in text.Split('\n'))
        {
            var width = font.MeasureText(line) / scale;
            var indent = (size.Width - width) * Fraction((int)horizontalAlignment);
            canvas.DrawText(isVector ? Number(line, width, new TextStyle(fontSize, fontWeight, fill)) : line, (float)(left + indent) * scale, (float)baseLine * scale, font, paint);
            baseLine += LinePitch * fontSize;
        }

        canvas.RestoreToCount(saved);
    }

    public void DrawEllipse(OxyRect extents, OxyColor fill, OxyColor stroke, double thickness, EdgeRenderingMode edgeRenderingMode) =>
        shapes.DrawEllipse(extents, fill, stroke, thickness, edgeRenderingMode);

    public void DrawEllipses(IList<OxyRect> extents, OxyColor fill, OxyColor stroke, double thickness, EdgeRenderingMode edgeRenderingMode)
    {
        if (!isVector)
        {
            shapes.DrawEllipses(extents, fill, stroke, thickness, edgeRenderingMode);
            return;
        }

        // The library would make one outline of curves of all of them, some 1.5 kB each; one by one they stay round, and SvgShapes joins them. All
        // grounds, then all outlines, as it is with pixels.
        if (fill.IsVisible())
        {
            Each(OxyColors.Undefined, fill);
        }

        if (stroke.IsVisible() && thickness > 0)
        {
            Each(stroke, OxyColors.Undefined);
        }

        void Each(OxyColor line, OxyColor ground)
        {
            foreach (var extent in extents)
            {
                shapes.DrawEllipse(extent, ground, line, thickness, edgeRenderingMode);
            }
        }
    }

    public void DrawLine(
        IList<ScreenPoint> points,
        OxyColor stroke,
        double thickness,
        EdgeRenderingMode edgeRenderingMode,
        double[]? dashArray = null,
        LineJoin lineJoin = LineJoin.Miter) =>
        shapes.DrawLine(points, stroke, thickness, edgeRenderingMode, dashArray, lineJoin);

    public void DrawLineSegments(
        IList<ScreenPoint> points,
        OxyColor stroke,
        double thickness,
        EdgeRenderingMode edgeRenderingMode,
        double[]? dashArray = null,
        LineJoin lineJoin = LineJoin.Miter) =>
        shapes.DrawLineSegments(points, stroke, thickness, edgeRenderingMode, dashArray, lineJoin);

    public void DrawPolygon(
        IList<ScreenPoint> points,
        OxyColor fill,
        OxyColor stroke,
        double thickness,
        EdgeRenderingMode edgeRenderingMode,
        double[]? dashArray = null,
        LineJoin lineJoin = LineJoin.Miter) =>
        shapes.DrawPolygon(points, fill, stroke, thickness, edgeRenderingMode, dashArray, lineJoin);

    public void DrawPolygons(
        IList<IList<ScreenPoint>> polygons,
        OxyColor fill,
        OxyColor stroke,
        double thickness,
        EdgeRenderingMode edgeRenderingMode,
        double[]? dashArray = null,
        LineJoin lineJoin = LineJoin.Miter) =>
        shapes.DrawPolygons(polygons, fill, stroke, thickness, edgeRenderingMode, dashArray, lineJoin);

    public void DrawRectangle(OxyRect rectangle, OxyColor fill, OxyColor stroke, double thickness, EdgeRenderingMode edgeRenderingMode) =>
        shapes.DrawRectangle(rectangle, fill, stroke, thickness, edgeRenderingMode);

    public void DrawRectangles(IList<OxyRect> rectangles, OxyColor fill, OxyColor stroke, double thickness, EdgeRenderingMode edgeRenderingMode) =>
        shapes.DrawRectangles(rectangles, fill, stroke, thickness, edgeRenderingMode);

    public void DrawImage(
        OxyImage source,
        double srcX,
        double srcY,
        double srcWidth,
        double srcHeight,
        double destX,
        double destY,
        double destWidth,
        double destHeight,
        double opacity,
        bool interpolate) =>
        shapes.DrawImage(source, srcX, srcY, srcWidth, srcHeight, destX, destY, destWidth, destHeight, opacity, interpolate);

    public void PushClip(OxyRect clippingRectangle) => shapes.PushClip(clippingRectangle);

    public void PopClip() => shapes.PopClip();

    public void SetToolTip(string text) => shapes.SetToolTip(text);

    public void CleanUp() => shapes.CleanUp();

    public void Dispose()
    {
        foreach (var font in fonts.Values)
        {
            font.Dispose();
        }

        shapes.Dispose();
    }

    // A picture of shapes keeps letters only as far as the typeface knows them, one place each. So the line's number is drawn, and SvgDocument
    // puts the line itself there.
    private string Number(string line, double width, TextStyle style)
    {
        lines.Add(new DrawnLine(line, width, style));
        return (lines.Count - 1).ToString(CultureInfo.InvariantCulture);
    }

    // Both alignments count -1 (left, top), 0, 1 (right, bottom).
    private static double Fraction(int alignment) => (alignment + 1) / 2.0;

    private static OxyRect BoxOf(ScreenPoint p, double left, double top, OxySize size, double rotation)
    {
        var (sin, cos) = Math.SinCos(rotation * Math.PI / 180);
        var corners = new[] { (left, top), (left + size.Width, top), (left, top + size.Height), (left + size.Width, top + size.Height) };
        var xs = corners.Select(c => p.X + (c.Item1 * cos) - (c.Item2 * sin)).ToArray();
        var ys = corners.Select(c => p.Y + (c.Item1 * sin) + (c.Item2 * cos)).ToArray();
        return new OxyRect(new ScreenPoint(xs.Min(), ys.Min()), new ScreenPoint(xs.Max(), ys.Max()));
    }

    private SKFont Font(double size, double weight)
    {
        var key = (size, weight >= 600);
        if (!fonts.TryGetValue(key, out var font))
        {
            // Without hinting and with subpixel placing the letters are the same on every machine and at every scale.
            font = new SKFont(EmbeddedFont.Of(weight), (float)size * scale)
            {
                Subpixel = true,
                Edging = SKFontEdging.Antialias,
                Hinting = SKFontHinting.None,
            };
            fonts.Add(key, font);
        }

        return font;
    }
}
