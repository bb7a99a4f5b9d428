using System.Globalization;
using System.Text;

namespace Vanehour.Fleet.Import;

/// <summary>
/// Reads samples.csv row by row, holding no more than one: truck, time (ISO 8601 with offset, or Unix seconds) and signals with the unit as
/// ending. What may be in a sample is what may be in one of the feed's.
/// </summary>
public sealed class SampleCsvReader : IDisposable
{
    private static readonly UTF8Encoding StrictUtf8 = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    private readonly StreamReader text;
    private readonly CsvScanner scanner;
    private readonly string file;
    private readonly decimal latestS;
    private readonly Action<CsvProblem> report;
    private readonly Dictionary<string, string>.AlternateLookup<ReadOnlySpan<char>> trucks =
        new Dictionary<string, string>(StringComparer.Ordinal).GetAlternateLookup<ReadOnlySpan<char>>();

    private SampleCsvHeader? header;

    /// <param name="file">The file's name, for messages.</param>
    /// <param name="content">The file, UTF-8 with or without a byte order mark; closed with the reader.</param>
    /// <param name="latest">No sample may be later.</param>
    /// <param name="report">Gets what is wrong, in order of line.</param>
    public SampleCsvReader(string file, Stream content, DateTimeOffset latest, Action<CsvProblem> report)
    {
        this.file = file;
        this.report = report;
        latestS = Seconds(latest);
        text = new StreamReader(content, StrictUtf8, detectEncodingFromByteOrderMarks: false, bufferSize: 128 * 1024);
        scanner = new CsvScanner(text);
    }

    /// <summary>The trucks met so far.</summary>
    public IReadOnlyCollection<string> Trucks => trucks.Dictionary.Keys;

    /// <summary>Whether a file with these columns is meant as a sample file.</summary>
    public static bool Recognises(IReadOnlyCollection<string> columns) =>
        columns.Contains(SampleColumn.Truck) && columns.Contains(SampleColumn.Time);

    /// <summary>The names in a file's first record; none where it cannot be read.</summary>
    public static IReadOnlyList<string> Columns(Stream content)
    {
        try
        {
            using var reader = new StreamReader(content, StrictUtf8, detectEncodingFromByteOrderMarks: false, leaveOpen: true);
            var scanner = new CsvScanner(reader);
            return scanner.Read() ? Names(scanner) : [];
        }
        catch (Exception e) when (e is FormatException or DecoderFallbackException)
        {
            return [];
        }
    }

    /// <summary>Reads the next row; the first call reads the header too.</summary>
    /// <param name="sample">The sample, in canonical units.</param>
    public SampleCsvStep Read(out Sample sample)
    {
        sample = default;
        try
        {
            if (header is null && !ReadHeader())
            {
                return SampleCsvStep.Broken;
            }

            return scanner.Read() ? Row(header!, out sample) : SampleCsvStep.End;
        }
        catch (FormatException e)
        {
            report(new CsvProblem(file, scanner.Line, null, e.Message));
            return SampleCsvStep.Broken;
        }
        catch (DecoderFallbackException)
        {
            report(new CsvProblem(file, scanner.Line, null, "The text after this line is not UTF-8; save the file as CSV UTF-8."));
            return SampleCsvStep.Broken;
        }
    }

    /// <inheritdoc/>
    public void Dispose() => text.Dispose();

    private static decimal Seconds(DateTimeOffset instant) => (instant.UtcTicks - DateTimeOffset.UnixEpoch.UtcTicks) / (decimal)TimeSpan.TicksPerSecond;

    private static List<string> Names(CsvScanner scanner)
    {
        var names = new List<string>();
        for (var i = 0; i < scanner.FieldCount; i++)
        {
            names.Add(scanner.Field(i).Trim().ToString());
        }

        return names;
    }

    private bool ReadHeader()
    {
        if (!scanner.Read())
        {
            report(new CsvProblem(file, 1, null, "The file is empty; the first line must name the columns."));
            return false;
        }

        var problems = new List<CsvProblem>();
        header = SampleCsvHeader.Read(file, scanner.Line, Names(scanner), problems);
        problems.ForEach(report);
        return header is not null;
    }

    private SampleCsvStep Row(SampleCsvHeader columns, out Sample sample)
    {
        sample = default;
        if (scanner.FieldCount != columns.FieldCount)
        {
            Refuse(null, $"The row has {scanner.FieldCount} fields, the header {columns.FieldCount}.");
            return SampleCsvStep.Bad;
        }

        var truck = Truck(scanner.Field(columns.Truck).Trim());
        var atMs = Instant(scanner.Field(columns.Time).Trim());
        var isGood = truck is not null && atMs is not null;
        var values = SignalValues.Empty;
        foreach (var (position, column) in columns.Signals)
        {
            var field = scanner.Field(position).Trim();
            if (field.Length > 0)
            {
                isGood &= Value(field, column, ref values);
            }
        }

        if (!isGood)
        {
            return SampleCsvStep.Bad;
        }

        sample = new Sample(truck!, atMs!.Value, values);
        return values.IsEmpty ? SampleCsvStep.Empty : SampleCsvStep.Sample;
    }

    private string? Truck(ReadOnlySpan<char> field)
    {
        if (trucks.TryGetValue(field, out var truck))
        {
            return truck;
        }

        if (!TruckId.IsValid(field))
        {
            Refuse(SampleColumn.Truck, field.IsEmpty
                ? "A value is needed here."
                : $"'{field}' is no truck's id: letters, digits, '-', '_' and '.', at most {TruckId.MaxLength} characters.");
            return null;
        }

        truck = field.ToString();
        trucks[field] = truck;
        return truck;
    }

    private long? Instant(ReadOnlySpan<char> field)
    {
        decimal seconds;
        if (LocalInstant.TryParseWithOffset(field, out var instant))
        {
            seconds = Seconds(instant);
        }
        else if (!decimal.TryParse(field, NumberStyles.Float, CultureInfo.InvariantCulture, out seconds))
        {
            Refuse(SampleColumn.Time, field.IsEmpty
                ? "A value is needed here."
                : $"'{field}' is neither a date-time with its offset (as 2026-03-09T07:30:00Z or 2026-03-09T07:30:00-05:00) nor Unix seconds.");
            return null;
        }

        if (seconds < SampleTime.EarliestS)
        {
            Refuse(SampleColumn.Time, $"'{field}' is before the year 2000.");
            return null;
        }

        if (seconds > latestS)
        {
            Refuse(SampleColumn.Time, $"'{field}' is more than {SampleTime.MaxAhead.TotalMinutes:0} minutes in the future; Unix time is in seconds here.");
            return null;
        }

        return SampleTime.ToUnixMs(seconds);
    }

    private bool Value(ReadOnlySpan<char> field, SampleColumn column, ref SignalValues values)
    {
        if (!double.TryParse(field, NumberStyles.Float, CultureInfo.InvariantCulture, out var given) || !double.IsFinite(given))
        {
            Refuse(column.Name, $"'{field}' is not a number (a decimal point, no thousands separators).");
            return false;
        }

        var signal = column.Signal;
        var value = column.Unit.ConvertTo(signal.Unit, given);
        if (!signal.Admits(value))
        {
            Refuse(column.Name, string.Create(
                CultureInfo.InvariantCulture,
                $"{value:G6} {signal.Unit.Symbol} is outside {signal.Name}'s range of {signal.Lowest} to {signal.Highest}."));
            return false;
        }

        values.Set(signal.Signal, value);
        return true;
    }

    private void Refuse(string? column, string reason) => report(new CsvProblem(file, scanner.Line, column, reason));
}
