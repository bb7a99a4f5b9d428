using OxyPlot;

namespace Vanehour.Reports.Drawing;

/// <summary>A place where a label may go.</summary>
/// <param name="X">Anchor, layout units.</param>
/// <param name="Y">Anchor, layout units.</param>
/// <param name="Horizontal">Which side of the label is at the anchor.</param>
/// <param name="Vertical">Likewise.</param>
/// <param name="Veil">Whether what lies behind is veiled, so that the label can be read over data.</param>
internal readonly record struct LabelSpot(
    double X,
    double Y,
    HorizontalAlignment Horizontal = HorizontalAlignment.Left,
    VerticalAlignment Vertical = VerticalAlignment.Top,
    bool Veil = false);
