using Vanehour.Reports.Drawing;

namespace Vanehour.Reports.Trucks;

/// <summary>A label beside a mark of a panel.</summary>
/// <param name="Text">What it says.</param>
/// <param name="Value">Where on the value axis.</param>
/// <param name="Style">How it looks.</param>
/// <param name="Days">Where on the time axis, days; null for a line across the whole panel.</param>
/// <param name="RightOf">Whether it goes to the right of the mark, not above or below.</param>
/// <param name="LeftFirst">Whether the label of a line goes to its left end where it can, not to its right end.</param>
internal sealed record PanelLabel(string Text, double Value, TextStyle Style, double? Days = null, bool RightOf = false, bool LeftFirst = false);
