using OxyPlot;

namespace Vanehour.Reports.Drawing;

/// <summary>How a text looks.</summary>
/// <param name="Size">Type size, layout units.</param>
/// <param name="Weight">400 regular, 700 bold.</param>
/// <param name="Color">Its colour.</param>
internal readonly record struct TextStyle(double Size, double Weight, OxyColor Color)
{
    /// <summary>From one line to the next, layout units.</summary>
    public double LineHeight => Size * 1.25;
}
