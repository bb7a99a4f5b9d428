namespace Vanehour.Reports.Comparing;

/// <summary>The marker of a pump model.</summary>
internal enum ModelMark
{
    Disc,
    Square,
    Triangle,
    Diamond,
    Cross,
    Plus,
}
