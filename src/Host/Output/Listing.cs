using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Spectre.Console;
using Vanehour.Reports.Words;

namespace Vanehour.Host.Output;

/// <summary>Writes rows as a table for people, as JSON or as CSV.</summary>
public static class Listing
{
    private const int LeastWidth = 80;
    private const int Unlimited = 4000;
    /// <summary>Writes <paramref name="rows"/>; an empty table says <paramref name="whenEmpty"/> instead.</summary>
    public static void Write<T>(
        TextWriter output,
        ListingFormat format,
        IReadOnlyList<T> rows,
        IReadOnlyList<Column<T>> columns,
        JsonTypeInfo<IReadOnlyList<T>> json,
        string whenEmpty)
    {
        ArgumentNullException.ThrowIfNull(output);
        ArgumentNullException.ThrowIfNull(rows);
        ArgumentNullException.ThrowIfNull(columns);
        switch (format)
        {
            case ListingFormat.Json:
                output.WriteLine(JsonSerializer.Serialize(rows, json));
                break;
            case ListingFormat.Csv:
                WriteCsv(output, rows, columns);
                break;
            default:
                WriteTable(output, rows, columns, whenEmpty);
                break;
        }
    }

    /// <summary>Writes rows as CSV, one after the other as they come.</summary>
    public static void WriteCsv<T>(TextWriter output, IEnumerable<T> rows, IReadOnlyList<Column<T>> columns)
    {
        ArgumentNullException.ThrowIfNull(output);
        ArgumentNullException.ThrowIfNull(rows);
        ArgumentNullException.ThrowIfNull(columns);
        output.WriteLine(string.Join(',', columns.Select(c => CsvField.Of(c.Name))));
        foreach (var row in rows)
        {
            output.WriteLine(string.Join(',', columns.Select(c => CsvField.Of(Exact(c.Value(row))))));
        }
    }

    /// <summary>Writes a table for people; an empty one says <paramref name="whenEmpty"/> instead.</summary>
    public static void WriteTable<T>(TextWriter output, IReadOnlyList<T> rows, IReadOnlyList<Column<T>> columns, string whenEmpty)
    {
        ArgumentNullException.ThrowIfNull(output);
        ArgumentNullException.ThrowIfNull(rows);
        ArgumentNullException.ThrowIfNull(columns);
        if (rows.Count == 0)
        {
            output.WriteLine(whenEmpty);
            return;
        }

        if (output is ITableTaker taker)
        {
            taker.Take(
                [.. columns.Select(c => (c.Name, c.Heading, rows.Select(c.Value).FirstOrDefault(v => v is not null) is double or int or long))],
                [.. rows.Select(r => columns.Select(c => ForPeople(c.Value(r), c.Format)).ToArray())]);
            return;
        }

        // Nothing is wrapped or left out when the output goes to a file or another program.
        var window = ReferenceEquals(output, Console.Out) && !Console.IsOutputRedirected ? Math.Max(AnsiConsole.Profile.Width, LeastWidth) : Unlimited;
        WriteTable(output, rows, columns, window);
    }

    /// <summary>Writes a table that fits into <paramref name="window"/> characters as well as it can.</summary>
    public static void WriteTable<T>(TextWriter output, IReadOnlyList<T> rows, IReadOnlyList<Column<T>> columns, int window)
    {
        ArgumentNullException.ThrowIfNull(output);
        ArgumentNullException.ThrowIfNull(rows);
        ArgumentNullException.ThrowIfNull(columns);
        var cells = rows.Select(r => columns.Select(c => ForPeople(c.Value(r), c.Format)).ToArray()).ToList();
        var samples = columns.Select(c => rows.Select(c.Value).FirstOrDefault(v => v is not null)).ToList();
        var layout = TableLayout.Of(
            [.. columns.Select(c => c.Heading)], cells, [.. columns.Select(c => c.Rank)], [.. samples.Select(v => v is string)], window);
        using var text = new StringWriter { NewLine = "\n" };
        var console = AnsiConsole.Create(new AnsiConsoleSettings
        {
            Out = new AnsiConsoleOutput(text),
            Ansi = AnsiSupport.No,
            Interactive = InteractionSupport.No,
        });
        console.Profile.Width = layout.Width;
        var table = new Table { Border = TableBorder.Simple, UseSafeBorder = true };
        foreach (var (index, width) in layout.Columns.Zip(layout.Widths))
        {
            var isNumber = samples[index] is double or int or long;
            table.AddColumn(new TableColumn(new Text(columns[index].Heading)) { Alignment = isNumber ? Justify.Right : Justify.Left, Width = width });
        }

        foreach (var row in cells)
        {
            table.AddRow(layout.Columns.Select(i => new Text(row[i])));
        }

        console.Write(table);
        foreach (var line in text.ToString().Split('\n').Select(l => l.TrimEnd()).Where(l => l.Length > 0))
        {
            output.WriteLine(line);
        }

        if (layout.Columns.Count < columns.Count)
        {
            var missing = Enumerable.Range(0, columns.Count).Except(layout.Columns).Select(i => $"'{columns[i].Heading}'");
            output.WriteLine($"A wider window has room for {string.Join(", ", missing)} too; --csv and --json give everything.");
        }
    }

    private static string ForPeople(object? value, string? format) => value switch
    {
        null => "-",
        double number => Unsigned(number.ToString(format ?? "0.##", CultureInfo.InvariantCulture)),
        DateTimeOffset instant => instant.ToUniversalTime().ToString(format ?? "yyyy-MM-dd HH:mm'Z'", CultureInfo.InvariantCulture),
        bool truth => truth ? "yes" : "no",
        _ => Printable(Convert.ToString(value, CultureInfo.InvariantCulture) ?? string.Empty),
    };

    // A gauge that reads a little below zero at atmosphere is rounded to zero, not to minus zero.
    private static string Unsigned(string number) => number.AsSpan().IndexOfAnyExcept("-0.") < 0 ? number.TrimStart('-') : number;

    private static string Exact(object? value) => value switch
    {
        null => string.Empty,
        double number => SensibleDigits.Of(number).ToString("R", CultureInfo.InvariantCulture),
        DateTimeOffset instant => instant.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.FFF'Z'", CultureInfo.InvariantCulture),
        bool truth => truth ? "yes" : "no",
        _ => Convert.ToString(value, CultureInfo.InvariantCulture) ?? string.Empty,
    };

    // What came over the feed may hold control characters; a terminal would obey them.
    private static string Printable(string text) =>
        string.Concat(text.Select(c => char.IsControl(c) ? '\uFFFD' : c));
}
