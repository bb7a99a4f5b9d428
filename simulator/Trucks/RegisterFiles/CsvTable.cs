using System.Buffers;
using System.Globalization;
using System.Text;

namespace Vanehour.Simulator.RegisterCsv;

/// <summary>Writes a table as RFC 4180 CSV in UTF-8 without a byte order mark: comma, header row, CRLF, quotes only where needed.</summary>
/// <param name="header">The column names.</param>
internal sealed class CsvTable(params string[] header)
{
    private static readonly SearchValues<char> NeedsQuotes = SearchValues.Create(",\"\r\n");

    private readonly StringBuilder text = new StringBuilder().AppendJoin(',', header).Append("\r\n");

    /// <summary>Adds a row of as many cells as the header has; numbers with up to six decimals, null as an empty cell.</summary>
    public void Add(params object?[] cells)
    {
        if (cells.Length != header.Length)
        {
            throw new ArgumentException($"{cells.Length} cells for {header.Length} columns.", nameof(cells));
        }

        text.AppendJoin(',', cells.Select(Cell)).Append("\r\n");
    }

    /// <summary>Writes the file, replacing one that is there.</summary>
    public void Save(string file) => File.WriteAllText(file, text.ToString(), new UTF8Encoding(encoderShouldEmitUTF8Identifier: false));

    private static string Cell(object? value)
    {
        var cell = value switch
        {
            null => string.Empty,
            double number => Math.Round(number, 6).ToString(CultureInfo.InvariantCulture),
            bool flag => flag ? "yes" : "no",
            _ => Convert.ToString(value, CultureInfo.InvariantCulture) ?? string.Empty,
        };
        return cell.AsSpan().IndexOfAny(NeedsQuotes) < 0 ? cell : $"\"{cell.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
    }
}
