using Vanehour.Reports.Drawing;

namespace Vanehour.Board.Parts;

/// <summary>Texts from outside, made harmless to look at.</summary>
internal static class Said
{
    /// <summary>On one line, without characters that hide or turn what stands beside them. The framework escapes what HTML would read.</summary>
    public static string Clean(string? text) => text is null ? string.Empty : TextFit.Clean(text);
}
