using Vanehour.Reports.Drawing;

namespace Vanehour.Reports.Tests.Drawn;

/// <summary>A report of any kind with a story to tell.</summary>
/// <param name="Draw">Its pages; the caller disposes of them.</param>
/// <param name="Png">Its pages as PNG.</param>
/// <param name="Svg">Its pages as SVG.</param>
internal sealed record DrawnReport(
    Func<ReportOptions, PageFormat, IEnumerable<Page>> Draw,
    Func<ReportOptions, IReadOnlyList<byte[]>> Png,
    Func<ReportOptions, SvgCaption, IReadOnlyList<string>> Svg);
