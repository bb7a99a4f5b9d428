using System.Globalization;
using Vanehour.Fleet.Units;

namespace Vanehour.Fleet.Import;

/// <summary>Takes typed values out of one row and collects what is wrong with it.</summary>
internal sealed class CsvRowReader
{
    private readonly CsvTable table;
    private readonly CsvRow row;
    private readonly List<CsvProblem> problems;
    private readonly int problemsBefore;

    public CsvRowReader(CsvTable table, CsvRow row, List<CsvProblem> problems)
    {
        this.table = table;
        this.row = row;
        this.problems = problems;
        problemsBefore = problems.Count;
        if (row.Fields.Length != table.Columns.Count)
        {
            Refuse(null, $"The row has {row.Fields.Length} fields, the header {table.Columns.Count}.");
        }
    }

    /// <summary>Whether nothing was wrong so far.</summary>
    public bool IsGood => problems.Count == problemsBefore;

    public void Refuse(string? column, string reason) => problems.Add(new CsvProblem(table.File, row.Line, column, reason));

    /// <summary>The text of a column, trimmed; null where the column is missing or the field empty.</summary>
    public string? Text(string column)
    {
        if (!table.Columns.TryGetValue(column, out var index) || index >= row.Fields.Length)
        {
            return null;
        }

        var text = row.Fields[index].Trim();
        return text.Length == 0 ? null : text;
    }

    public string RequiredText(string column)
    {
        if (Text(column) is { } text)
        {
            return text;
        }

        Refuse(column, "A value is needed here.");
        return string.Empty;
    }

    public double? Number(string column)
    {
        if (Text(column) is not { } text)
        {
            return null;
        }

        if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && double.IsFinite(value))
        {
            return value;
        }

        Refuse(column, $"'{text}' is not a number (a decimal point, no thousands separators).");
        return null;
    }

    public double RequiredNumber(string column)
    {
        if (Text(column) is null)
        {
            Refuse(column, "A number is needed here.");
            return 0;
        }

        return Number(column) ?? 0;
    }

    /// <summary>A quantity whose column may come in any of several units; exactly one of the columns may be filled.</summary>
    public T? Quantity<T>(params ReadOnlySpan<(string Column, Unit Unit)> choices)
        where T : struct, IQuantity<T>
    {
        T? result = null;
        string? found = null;
        foreach (var (column, unit) in choices)
        {
            if (Text(column) is null)
            {
                continue;
            }

            if (found is not null)
            {
                Refuse(column, $"Both {found} and {column} are given; give one.");
                return result;
            }

            found = column;
            if (Number(column) is not { } value)
            {
                continue;
            }

            try
            {
                result = T.FromSi(unit.ToSi(value));
            }
            catch (ArgumentOutOfRangeException)
            {
                Refuse(column, string.Create(CultureInfo.InvariantCulture, $"{value} {unit.Symbol} is not possible here."));
            }
        }

        return result;
    }

    public T RequiredQuantity<T>(params ReadOnlySpan<(string Column, Unit Unit)> choices)
        where T : struct, IQuantity<T>
    {
        var before = problems.Count;
        if (Quantity<T>(choices) is { } value)
        {
            return value;
        }

        if (problems.Count == before)
        {
            var names = new List<string>();
            foreach (var (column, _) in choices)
            {
                names.Add(column);
            }

            Refuse(names[0], $"A value is needed in {string.Join(" or ", names)}.");
        }

        return default;
    }

    public bool? YesNo(string column)
    {
        switch (Text(column))
        {
            case null:
                return null;
            case { } text when text.Equals("yes", StringComparison.OrdinalIgnoreCase):
                return true;
            case { } text when text.Equals("no", StringComparison.OrdinalIgnoreCase):
                return false;
            case { } text:
                Refuse(column, $"'{text}' is neither yes nor no.");
                return null;
        }
    }

    /// <summary>An ISO 8601 date or date-time; without an offset it is local to <paramref name="zone"/>.</summary>
    public DateTimeOffset RequiredInstant(string column, TimeZoneInfo zone)
    {
        if (Text(column) is not { } text)
        {
            Refuse(column, "A date is needed here.");
            return default;
        }

        if (LocalInstant.TryParse(text, zone, out var instant))
        {
            return instant;
        }

        Refuse(column, $"'{text}' is not a date (as 2026-03-09) or date-time (as 2026-03-09T07:30 or 2026-03-09T07:30:00-05:00).");
        return default;
    }
}
