using System.Collections.Frozen;
using System.Text;

namespace Vanehour.Fleet.Import;

/// <summary>A CSV file with its header understood.</summary>
internal sealed class CsvTable
{
    private static readonly UTF8Encoding StrictUtf8 = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    private CsvTable(string file, FrozenDictionary<string, int> columns, IReadOnlyList<CsvRow> rows)
    {
        File = file;
        Columns = columns;
        Rows = rows;
    }

    public string File { get; }

    /// <summary>Column names and their positions.</summary>
    public FrozenDictionary<string, int> Columns { get; }

    /// <summary>The records after the header.</summary>
    public IReadOnlyList<CsvRow> Rows { get; }

    /// <summary>Reads a file, or says what is wrong with it as a whole.</summary>
    public static CsvTable? Read(RegisterFile file, out CsvProblem? problem)
    {
        IReadOnlyList<CsvRow> rows;
        try
        {
            var text = StrictUtf8.GetString(file.Content.Span);
            rows = CsvText.Read(text.TrimStart('\uFEFF'));
        }
        catch (FormatException e)
        {
            problem = new CsvProblem(file.Name, 1, null, e.Message);
            return null;
        }
        catch (DecoderFallbackException)
        {
            problem = new CsvProblem(file.Name, 1, null, "The file is not UTF-8 text; save it as CSV UTF-8.");
            return null;
        }

        if (rows.Count == 0)
        {
            problem = new CsvProblem(file.Name, 1, null, "The file is empty; the first line must name the columns.");
            return null;
        }

        var columns = new Dictionary<string, int>(StringComparer.Ordinal);
        for (var i = 0; i < rows[0].Fields.Length; i++)
        {
            var name = rows[0].Fields[i].Trim();
            if (!columns.TryAdd(name, i))
            {
                problem = new CsvProblem(file.Name, rows[0].Line, name, "The column appears twice.");
                return null;
            }
        }

        problem = null;
        return new CsvTable(file.Name, columns.ToFrozenDictionary(StringComparer.Ordinal), [.. rows.Skip(1)]);
    }
}
