using OxyPlot;

namespace Vanehour.Reports.Comparing;

/// <summary>A place on a page with a value axis along each side.</summary>
/// <param name="Box">The place, layout units.</param>
/// <param name="Left">Value at its left side.</param>
/// <param name="Right">Value at its right side.</param>
/// <param name="Bottom">Value at its bottom.</param>
/// <param name="Top">Value at its top.</param>
internal sealed record PlotArea(OxyRect Box, double Left, double Right, double Bottom, double Top)
{
    public double X(double value) => Box.Left + ((value - Left) / (Right - Left) * Box.Width);

    public double Y(double value) => Box.Bottom - ((value - Bottom) / (Top - Bottom) * Box.Height);

    public ScreenPoint At(double x, double y) => new(X(x), Y(y));
}
