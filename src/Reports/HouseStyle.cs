using OxyPlot;
using Vanehour.Reports.Drawing;

namespace Vanehour.Reports;

/// <summary>
/// How every report looks: colours, type sizes and line widths in one place. Sizes are in layout units, of which 800 make the width of a page.
/// </summary>
/// <remarks>
/// The palette is our own choice: one blue and one rust, which stay apart for the common kinds of colour blindness, on steps of lightness that stay
/// apart in grey. Nothing is told by colour alone: limits differ by dash, states by the shape of the marker and by a word.
/// </remarks>
public static class HouseStyle
{
    /// <summary>Width of a page, layout units.</summary>
    public const double PageWidth = 800;

    /// <summary>Height of a page, layout units. At 2 pixels a unit the page is 1600 x 2200 pixels: about 220 per inch inside the margins of A4 and Letter.</summary>
    public const double PageHeight = 1100;

    /// <summary>Space left free round a page, layout units.</summary>
    public const double PageMargin = 18;

    /// <summary>Thinnest line that survives printing, layout units.</summary>
    public const double HairLine = 0.75;

    /// <summary>Lines of data, layout units.</summary>
    public const double DataLine = 2;

    /// <summary>Lines of limits and settings, layout units.</summary>
    public const double LimitLine = 1.6;

    /// <summary>Text and limits.</summary>
    public static readonly OxyColor Ink = OxyColor.FromRgb(0x16, 0x20, 0x2A);

    /// <summary>Text of second rank.</summary>
    public static readonly OxyColor Muted = OxyColor.FromRgb(0x4C, 0x57, 0x63);

    /// <summary>Axis lines and frames.</summary>
    public static readonly OxyColor Axis = OxyColor.FromRgb(0x86, 0x91, 0x9C);

    /// <summary>Grid lines.</summary>
    public static readonly OxyColor Grid = OxyColor.FromRgb(0xDF, 0xE4, 0xE9);

    /// <summary>Ground of what has not happened yet.</summary>
    public static readonly OxyColor Ahead = OxyColor.FromRgb(0xF4, 0xF6, 0xF8);

    /// <summary>Data.</summary>
    public static readonly OxyColor Data = OxyColor.FromRgb(0x14, 0x46, 0x7A);

    /// <summary>Single readings behind a line of data.</summary>
    public static readonly OxyColor DataFaint = OxyColor.FromRgb(0x7D, 0xA3, 0xC6);

    /// <summary>What is expected.</summary>
    public static readonly OxyColor Band = OxyColor.FromRgb(0xD9, 0xE5, 0xF0);

    /// <summary>The middle and edge of what is expected.</summary>
    public static readonly OxyColor BandEdge = OxyColor.FromRgb(0x9A, 0xB6, 0xD0);

    /// <summary>What needs a person.</summary>
    public static readonly OxyColor Alarm = OxyColor.FromRgb(0xB4, 0x47, 0x0D);

    /// <summary>Ground behind what needs a person.</summary>
    public static readonly OxyColor AlarmGround = OxyColor.FromRgb(0xFB, 0xEC, 0xE2);

    /// <summary>The paper.</summary>
    public static readonly OxyColor Paper = OxyColors.White;

    internal static readonly TextStyle PageTitle = new(26, FontWeights.Bold, Ink);
    internal static readonly TextStyle Figure = new(22, FontWeights.Bold, Ink);
    internal static readonly TextStyle PanelTitle = new(16, FontWeights.Bold, Ink);
    internal static readonly TextStyle Body = new(15, FontWeights.Normal, Ink);
    internal static readonly TextStyle BodyStrong = new(15, FontWeights.Bold, Ink);
    internal static readonly TextStyle Note = new(13.5, FontWeights.Normal, Muted);
    internal static readonly TextStyle Tick = new(13.5, FontWeights.Normal, Muted);
    internal static readonly TextStyle Label = new(13.5, FontWeights.Bold, Ink);
    internal static readonly TextStyle Small = new(12, FontWeights.Normal, Muted);

    /// <summary>Dash of a setting that is wanted, in line widths.</summary>
    internal static readonly double[] WantedDash = [7, 4];

    /// <summary>Dash of the mark of an event, in line widths.</summary>
    internal static readonly double[] EventDash = [2, 3];

    /// <summary>Dash of the short lines of a provisional forecast, in line widths.</summary>
    internal static readonly double[] ProvisionalDash = [1.4, 1];

    /// <summary>Dash of what has not happened yet, in line widths.</summary>
    internal static readonly double[] AheadDash = [4, 3];
}
