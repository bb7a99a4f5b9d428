using System.Text;
using System.Xml.Linq;

namespace Vanehour.Reports.Drawing;

/// <summary>
/// The shapes of one group of an SVG in order. Neighbours that one brush paints without letting anything shine through become one path: a page
/// of thousands of marks stays small, and looks the same.
/// </summary>
internal sealed class SvgShapes(XElement into)
{
    private readonly StringBuilder outline = new();
    private List<(XName Name, string Value)> brush = [];

    /// <summary>Adds what is no shape: a text, a group.</summary>
    public void AddOther(XElement element)
    {
        Flush();
        into.Add(element);
    }

    /// <summary>Adds a shape as the library wrote it.</summary>
    public void Add(XElement shape)
    {
        var paint = shape.Attributes().Where(a => !IsOutline(a.Name.LocalName)).Select(a => (a.Name, a.Name.LocalName.EndsWith("opacity", StringComparison.Ordinal) ? SvgNumbers.Shorten(a.Value) : a.Value)).ToList();
        var ofItsOwn = Outline(shape, paint);
        if (ofItsOwn is null)
        {
            Flush();
            into.Add(new XElement(shape.Name, shape.Attributes().Select(a => new XAttribute(a.Name, IsOutline(a.Name.LocalName) || a.Name.LocalName.EndsWith("opacity", StringComparison.Ordinal) ? SvgNumbers.Shorten(a.Value) : a.Value))));
            return;
        }

        if (!paint.SequenceEqual(brush))
        {
            Flush();
            brush = paint;
        }

        outline.Append(ofItsOwn);
    }

    /// <summary>Writes what is pending.</summary>
    public void Flush()
    {
        if (outline.Length > 0)
        {
            into.Add(new XElement(into.Name.Namespace + "path", brush.Select(b => new XAttribute(b.Name, b.Value)), new XAttribute("d", outline.ToString())));
        }

        outline.Clear();
        brush = [];
    }

    private static bool IsOutline(string name) => name is "d" or "x" or "y" or "width" or "height" or "cx" or "cy" or "rx" or "ry" or "r";

    // As path data, where joining it with its neighbours changes nothing: outlines that are only stroked, and filled ones that all turn one way.
    private static string? Outline(XElement shape, List<(XName Name, string Value)> paint)
    {
        var stroked = paint.Contains(("fill", "none"));
        if (paint.Any(p => p.Name.LocalName.EndsWith("opacity", StringComparison.Ordinal) || p.Name.LocalName is "transform" or "fill-rule") || (!stroked && paint.Any(p => p.Name.LocalName == "stroke")))
        {
            return null;
        }

        string Of(string name) => SvgNumbers.Shorten(shape.Attribute(name)!.Value);
        double Read(string name) => shape.Attribute(name) is { } a ? SvgNumbers.Read(a.Value) : 0;
        switch (shape.Name.LocalName)
        {
            case "rect" when shape.Attribute("rx") is null && shape.Attribute("ry") is null:
                return $"M{SvgNumbers.Short(Read("x"))} {SvgNumbers.Short(Read("y"))}h{Of("width")}v{Of("height")}h-{Of("width")}z";
            case "ellipse" when !stroked && Of("rx") == Of("ry"):
                // A dot is a line without length and with round ends.
                var color = paint.Single(p => p.Name.LocalName == "fill").Value;
                paint.Clear();
                paint.AddRange([("fill", "none"), ("stroke", color), ("stroke-width", SvgNumbers.Short(2 * SvgNumbers.Read(Of("rx")))), ("stroke-linecap", "round")]);
                return $"M{Of("cx")} {Of("cy")}h0";
            case "ellipse":
                var (rx, ry) = (Of("rx"), Of("ry"));
                var across = SvgNumbers.Short(2 * SvgNumbers.Read(rx));
                return $"M{SvgNumbers.Short(Read("cx") - Read("rx"))} {SvgNumbers.Short(Read("cy"))}a{rx} {ry} 0 1 1 {across} 0a{rx} {ry} 0 1 1 -{across} 0z";
            case "path" when stroked:
                return SvgNumbers.Shorten(shape.Attribute("d")!.Value);
            default:
                return null;
        }
    }
}
