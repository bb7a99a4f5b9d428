namespace Vanehour.Host.Output;

/// <summary>Which columns of a table fit into a window, and how wide each is: words, numbers and dates are never cut in two.</summary>
internal sealed class TableLayout
{
    // What the border and the padding take: two at the left, three between columns, two at the right.
    private const int PerColumn = 3;
    private const int AtTheEdges = 1;

    private TableLayout(int[] columns, int[] widths) => (Columns, Widths) = (columns, widths);

    /// <summary>The columns shown, by index.</summary>
    public IReadOnlyList<int> Columns { get; }

    /// <summary>The width of each column shown.</summary>
    public IReadOnlyList<int> Widths { get; }

    /// <summary>How wide the table is in all.</summary>
    public int Width => Widths.Sum() + (PerColumn * Columns.Count) + AtTheEdges;

    /// <summary>Lays out a table.</summary>
    /// <param name="headings">The headings.</param>
    /// <param name="cells">The rows' cells.</param>
    /// <param name="ranks">A column's rank: 0 stays, else the highest is left out first.</param>
    /// <param name="wraps">Whether a column's cells may be wrapped between words.</param>
    /// <param name="window">How wide the window is.</param>
    public static TableLayout Of(
        IReadOnlyList<string> headings, IReadOnlyList<string[]> cells, IReadOnlyList<int> ranks, IReadOnlyList<bool> wraps, int window)
    {
        var least = new int[headings.Count];
        var full = new int[headings.Count];
        for (var i = 0; i < headings.Count; i++)
        {
            var longest = cells.Max(r => r[i].Length);
            var heading = LongestWord(headings[i]);
            full[i] = Math.Max(longest, headings[i].Length);
            least[i] = Math.Max(wraps[i] ? cells.Max(r => LongestWord(r[i])) : longest, heading);
        }

        var shown = Enumerable.Range(0, headings.Count).ToList();
        while (Needed(shown) > window && shown.MaxBy(i => ranks[i]) is var last && ranks[last] > 0)
        {
            shown.Remove(last);
        }

        var widths = shown.Select(i => least[i]).ToArray();
        for (var left = window - Needed(shown); left > 0;)
        {
            var widened = false;
            for (var i = 0; i < widths.Length && left > 0; i++)
            {
                if (widths[i] < full[shown[i]])
                {
                    widths[i]++;
                    left--;
                    widened = true;
                }
            }

            if (!widened)
            {
                break;
            }
        }

        return new TableLayout([.. shown], widths);

        int Needed(List<int> columns) => columns.Sum(i => least[i]) + (PerColumn * columns.Count) + AtTheEdges;
    }

    private static int LongestWord(string text) => text.Split(' ').Max(w => w.Length);
}
