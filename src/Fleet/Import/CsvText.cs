using System.Collections.Immutable;

namespace Vanehour.Fleet.Import;

/// <summary>Splits CSV text that is in memory into records; the rules are those of <see cref="CsvScanner"/>.</summary>
public static class CsvText
{
    /// <summary>Reads every record.</summary>
    /// <exception cref="FormatException">A quote is out of place or not closed; the message says on which line.</exception>
    public static IReadOnlyList<CsvRow> Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        using var reader = new StringReader(text);
        var scanner = new CsvScanner(reader);
        var rows = new List<CsvRow>();
        while (scanner.Read())
        {
            var fields = ImmutableArray.CreateBuilder<string>(scanner.FieldCount);
            for (var i = 0; i < scanner.FieldCount; i++)
            {
                fields.Add(scanner.Field(i).ToString());
            }

            rows.Add(new CsvRow(scanner.Line, fields.MoveToImmutable()));
        }

        return rows;
    }
}
