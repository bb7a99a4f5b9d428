using Vanehour.Reports.Drawing;

namespace Vanehour.Reports;

/// <summary>The files of the typeface of every report, Inter (SIL Open Font License), for whoever shows the SVGs: TrueType, family "Inter".</summary>
public static class ReportFonts
{
    /// <summary>Weight 400.</summary>
    public static ReadOnlyMemory<byte> Regular => EmbeddedFont.FileOf(400);

    /// <summary>Weight 600.</summary>
    public static ReadOnlyMemory<byte> SemiBold => EmbeddedFont.FileOf(600);
}
