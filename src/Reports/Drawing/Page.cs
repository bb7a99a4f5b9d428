using OxyPlot;
using SkiaSharp;

namespace Vanehour.Reports.Drawing;

/// <summary>One picture in the making. Not for use by two threads at once.</summary>
internal sealed class Page : IDisposable
{
    // Flat colours and thin lines shrink best unfiltered (measured); levels above 6 take four times as long for one per cent.
    private static readonly SKPngEncoderOptions Encoding = new(SKPngEncoderFilterFlags.NoFilters, 6);

    private const double FooterGap = 14;

    // One of them: where a page of pixels and where a page of shapes goes.
    private readonly SKBitmap? bitmap;
    private readonly MemoryStream? shapes;
    private readonly SKCanvas canvas;

    /// <param name="width">Width, layout units.</param>
    /// <param name="height">Height, layout units.</param>
    /// <param name="format">Pixels or shapes.</param>
    public Page(double width, double height, PageFormat format)
    {
        Bounds = new OxyRect(0, 0, width, height);
        if (format.IsVector)
        {
            shapes = new MemoryStream();
            canvas = SKSvgCanvas.Create(SKRect.Create((float)width, (float)height), shapes);
        }
        else
        {
            bitmap = new SKBitmap((int)Math.Round(width * format.Scale), (int)Math.Round(height * format.Scale), SKColorType.Rgba8888, SKAlphaType.Opaque);
            canvas = new SKCanvas(bitmap);
            canvas.Clear(SKColors.White);
        }

        Context = new EmbeddedFontContext(canvas, format);
    }

    /// <summary>The whole page, layout units.</summary>
    public OxyRect Bounds { get; }

    public EmbeddedFontContext Context { get; }

    /// <summary>A page as high as what is on it, with the footer. It is drawn twice: the first time tells how high the page must be.</summary>
    /// <param name="width">Width, layout units.</param>
    /// <param name="leastHeight">Height that it has at least, layout units.</param>
    /// <param name="format">Pixels or shapes.</param>
    /// <param name="drawBody">Draws what is above the footer and says where it ends, layout units.</param>
    public static Page AsHighAs(double width, double leastHeight, PageFormat format, Func<Page, double> drawBody)
    {
        double height;
        using (var trial = new Page(width, 100, format))
        {
            height = drawBody(trial);
        }

        var page = new Page(width, Math.Max(leastHeight, height + FooterGap + PageFooter.Height + HouseStyle.PageMargin), format);
        drawBody(page);
        PageFooter.Draw(page);
        return page;
    }

    /// <summary>Draws a chart with its plot area at <paramref name="plot"/> exactly.</summary>
    /// <param name="model">The chart.</param>
    /// <param name="plot">Where its data go, layout units.</param>
    /// <param name="margins">Room for tick labels round the plot area, layout units.</param>
    /// <exception cref="InvalidOperationException">The charting library failed; it would have drawn its error into the picture.</exception>
    public void Draw(PlotModel model, OxyRect plot, OxyThickness margins)
    {
        model.Padding = new OxyThickness(0);
        model.PlotMargins = margins;
        IPlotModel chart = model;
        chart.Update(true);
        Check(model);
        chart.Render(Context, plot.Inflate(margins));
        Check(model);
    }

    /// <summary>The picture as PNG; of a page of pixels only.</summary>
    public byte[] ToPng()
    {
        if (bitmap is null)
        {
            throw new InvalidOperationException("A page of shapes has no pixels.");
        }

        canvas.Flush();
        using var pixels = bitmap.PeekPixels();
        using var data = pixels.Encode(Encoding) ?? throw new InvalidOperationException("The picture could not be encoded.");
        return data.ToArray();
    }

    /// <summary>The picture as SVG; of a page of shapes only, and the page takes no more drawing after it.</summary>
    public string ToSvg(SvgCaption caption)
    {
        if (shapes is null)
        {
            throw new InvalidOperationException("A page of pixels has no shapes.");
        }

        // The library writes the end of it when its canvas goes.
        canvas.Dispose();
        return SvgDocument.Of(shapes.ToArray(), Context.Lines, Bounds, caption);
    }

    public void Dispose()
    {
        Context.Dispose();
        canvas.Dispose();
        bitmap?.Dispose();
        shapes?.Dispose();
    }

    private static void Check(PlotModel model)
    {
        if (model.GetLastPlotException() is { } failure)
        {
            throw new InvalidOperationException("A chart could not be drawn: " + failure.Message, failure);
        }
    }
}
