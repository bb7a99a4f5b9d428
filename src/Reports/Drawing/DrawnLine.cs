namespace Vanehour.Reports.Drawing;

/// <summary>A line of text of a page of shapes: what stands where the library wrote its number.</summary>
/// <param name="Text">The text.</param>
/// <param name="Width">Its width, layout units.</param>
/// <param name="Style">How it looks.</param>
internal readonly record struct DrawnLine(string Text, double Width, TextStyle Style);
