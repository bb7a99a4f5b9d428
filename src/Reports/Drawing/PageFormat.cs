namespace Vanehour.Reports.Drawing;

/// <summary>Into what a page is drawn: pixels for PNG, or shapes for SVG. What is drawn is the same.</summary>
/// <param name="Scale">Pixels a layout unit; 1 for shapes.</param>
/// <param name="IsVector">Whether into shapes.</param>
internal readonly record struct PageFormat(double Scale, bool IsVector)
{
    /// <summary>Shapes, in layout units.</summary>
    public static PageFormat Vector { get; } = new(1, true);

    /// <param name="scale">Pixels a layout unit.</param>
    public static PageFormat Pixels(double scale) => new(scale, false);
}
