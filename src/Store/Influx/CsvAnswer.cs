using System.Text;

namespace Vanehour.Store.Influx;

/// <summary>
/// Reads the CSV of an InfluxQL answer: tables one after the other, each with a header, an empty line between two. An error comes as a table of the one
/// column "error", even with the status 200, so it has to be looked for.
/// </summary>
internal static class CsvAnswer
{
    /// <summary>Reads to the end.</summary>
    /// <param name="reader">The answer.</param>
    /// <param name="row">Takes headers and rows.</param>
    /// <param name="error">Makes the exception for an error the answer holds.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public static async Task ReadAsync(TextReader reader, Action<CsvRow> row, Func<string, Exception> error, CancellationToken cancellationToken)
    {
        var cells = new List<Range>();
        var isHeader = true;
        var isError = false;
        while (await reader.ReadLineAsync(cancellationToken) is { } line)
        {
            if (line.Length == 0)
            {
                isHeader = true;
                continue;
            }

            var parsed = line.Contains('"', StringComparison.Ordinal)
                ? new CsvRow(await QuotedAsync(line, reader, cancellationToken), isHeader)
                : Plain(line, cells, isHeader);
            if (isError)
            {
                throw error(parsed[0].ToString());
            }

            isError = isHeader && parsed.Count == 1 && parsed[0] is "error";
            if (!isError)
            {
                row(parsed);
            }

            isHeader = false;
        }

        if (isError)
        {
            throw error("an error without a message");
        }
    }

    private static CsvRow Plain(string line, List<Range> cells, bool isHeader)
    {
        cells.Clear();
        foreach (var cell in line.AsSpan().Split(','))
        {
            cells.Add(cell);
        }

        return new CsvRow(line, cells, isHeader);
    }

    // RFC 4180: a quoted cell may hold commas, doubled quotes and line breaks.
    private static async Task<List<string>> QuotedAsync(string line, TextReader reader, CancellationToken cancellationToken)
    {
        var cells = new List<string>();
        var cell = new StringBuilder();
        var isQuoted = false;
        while (true)
        {
            for (var i = 0; i < line.Length; i++)
            {
                var c = line[i];
                if (isQuoted && c == '"' && i + 1 < line.Length && line[i + 1] == '"')
                {
                    cell.Append('"');
                    i++;
                }
                else if (c == '"')
                {
                    isQuoted = !isQuoted;
                }
                else if (c == ',' && !isQuoted)
                {
                    cells.Add(cell.ToString());
                    cell.Clear();
                }
                else
                {
                    cell.Append(c);
                }
            }

            if (!isQuoted || await reader.ReadLineAsync(cancellationToken) is not { } next)
            {
                cells.Add(cell.ToString());
                return cells;
            }

            cell.Append('\n');
            line = next;
        }
    }
}
