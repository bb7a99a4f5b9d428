using System.Text;
using System.Xml;
using System.Xml.Linq;
using OxyPlot;

namespace Vanehour.Reports.Drawing;

/// <summary>
/// Makes of the SVG that the graphics library writes one that may stand in a web page beside others: real texts, ids and a name of its own, a size
/// that follows the page, nothing that a strict content policy refuses (no style, no script, no reference), and short.
/// </summary>
/// <remarks>
///     page of shapes -> the library's SVG, lines of text as numbers -> lines put in (SvgText), shapes joined (SvgShapes), numbers shortened -> SVG
/// </remarks>
internal static class SvgDocument
{
    private const string Mitre = "stroke-miterlimit";
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    /// <param name="shapes">What the library wrote.</param>
    /// <param name="lines">The lines of text whose numbers stand in it.</param>
    /// <param name="bounds">The page, layout units.</param>
    /// <param name="caption">Ids and words.</param>
    public static string Of(byte[] shapes, IReadOnlyList<DrawnLine> lines, OxyRect bounds, SvgCaption caption)
    {
        using var stream = new MemoryStream(shapes);
        var drawn = XDocument.Load(stream).Root!;
        var title = caption.IdPrefix + "-title";
        var desc = caption.IdPrefix + "-desc";
        var mitres = drawn.Descendants().Attributes(Mitre).Select(a => a.Value).Distinct().ToList();
        if (mitres.Count == 1)
        {
            drawn.Descendants().Attributes(Mitre).Remove();
        }

        var root = new XElement(
            Svg + "svg",
            new XAttribute("viewBox", $"0 0 {SvgNumbers.Short(bounds.Width)} {SvgNumbers.Short(bounds.Height)}"),
            new XAttribute("role", "img"),
            new XAttribute("aria-labelledby", $"{title} {desc}"),
            new XAttribute("font-family", "Inter, sans-serif"),
            mitres.Count == 1 ? new XAttribute(Mitre, mitres[0]) : null,
            new XElement(Svg + "title", new XAttribute("id", title), SvgText.Clean(caption.Title)),
            new XElement(Svg + "desc", new XAttribute("id", desc), SvgText.Clean(caption.Description)),
            new XElement(Svg + "rect", new XAttribute("width", SvgNumbers.Short(bounds.Width)), new XAttribute("height", SvgNumbers.Short(bounds.Height)), new XAttribute("fill", "white")));
        // The library counts its ids over all pictures of the process; here they count from the start of this one.
        var ids = drawn.Descendants().Attributes("id").Select((a, i) => (Old: a.Value, New: $"{caption.IdPrefix}-{SvgNumbers.Short(i + 1)}")).ToDictionary(a => a.Old, a => a.New, StringComparer.Ordinal);
        Copy(drawn, root, lines, ids);
        return Write(root);
    }

    private static void Copy(XElement from, XElement into, IReadOnlyList<DrawnLine> lines, IReadOnlyDictionary<string, string> ids)
    {
        var shapes = new SvgShapes(into);
        foreach (var element in from.Elements())
        {
            switch (element.Name.LocalName)
            {
                case "text":
                    shapes.AddOther(SvgText.Of(element, lines[SvgText.NumberOf(element)]));
                    break;
                case "g" or "clipPath":
                    var group = new XElement(element.Name, element.Attributes().Select(a => new XAttribute(a.Name, Own(a, ids))));
                    Copy(element, group, lines, ids);
                    if (group.HasElements)
                    {
                        shapes.AddOther(group);
                    }

                    break;
                case "rect" or "ellipse" or "path":
                    shapes.Add(element);
                    break;
                default:
                    throw new InvalidOperationException($"The graphics library drew a '{element.Name.LocalName}', which web pages can't be given yet: draw it with shapes.");
            }
        }

        shapes.Flush();
    }

    private static string Own(XAttribute attribute, IReadOnlyDictionary<string, string> ids)
    {
        const string Reference = "url(#";
        return attribute.Name.LocalName == "id" ? ids[attribute.Value]
            : attribute.Value.StartsWith(Reference, StringComparison.Ordinal) ? $"{Reference}{ids[attribute.Value[Reference.Length..^1]]})"
            : attribute.Value;
    }

    private static string Write(XElement root)
    {
        var text = new StringBuilder();
        using (var writer = XmlWriter.Create(text, new XmlWriterSettings { OmitXmlDeclaration = true, Indent = false, CheckCharacters = true }))
        {
            root.Save(writer);
        }

        return text.ToString();
    }
}
