using System.Text;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using Vanehour.Fleet.Import;

namespace Vanehour.Fleet.Tests.Import;

public class CsvScannerTests
{
    private static readonly Gen<string> Texts =
        Gen.Elements('a', 'b', ',', '"', '\r', '\n').ListOf().Select(c => string.Concat(c));

    [Property(MaxTest = 2000)]
    public Property ReadsWhatASlowTwinReadsHoweverTheTextArrives() => Prop.ForAll(Texts.ToArbitrary(), text =>
    {
        var twin = Try(() => Twin(text));
        return twin == Try(() => Scan(new StringReader(text))) && twin == Try(() => Scan(new OneByOneReader(text)));
    });

    [Theory]
    [InlineData("truck,time\r\nT1,5\r\n", 32 * 1024)]
    [InlineData("a,\"b\"\"c\nd\",e\r\n", 32 * 1024)]
    public void NoBoundaryOfTheBufferMatters(string row, int around)
    {
        for (var padding = around - 40; padding < around + 5; padding++)
        {
            var text = new string('x', padding) + "\n" + row;
            Assert.Equal(Scan(new OneByOneReader(text)), Scan(new StringReader(text)));
        }
    }

    [Fact]
    public void AQuoteThatIsNeverClosedDoesNotTakeInAHugeFile()
    {
        using var reader = new StringReader("a\n\"" + new string('x', CsvScanner.LongestRecord + 1));
        var scanner = new CsvScanner(reader);
        Assert.True(scanner.Read());
        var error = Assert.Throws<FormatException>(() => scanner.Read());
        Assert.Contains("line 2", error.Message, StringComparison.Ordinal);
    }

    private static string Try(Func<string> read)
    {
        try
        {
            return read();
        }
        catch (FormatException)
        {
            return "refused";
        }
    }

    private static string Scan(TextReader reader)
    {
        var scanner = new CsvScanner(reader);
        var rows = new List<CsvRow>();
        while (scanner.Read())
        {
            rows.Add(new CsvRow(scanner.Line, [.. Enumerable.Range(0, scanner.FieldCount).Select(i => scanner.Field(i).ToString())]));
        }

        return Show(rows);
    }

    private static string Show(IEnumerable<CsvRow> rows) => string.Join('\n', rows.Select(r => $"{r.Line}: {string.Join('|', r.Fields.Select(f => $"<{f}>"))}"));

    // Character by character, the whole text in memory: slow and plain.
    private static string Twin(string text)
    {
        var rows = new List<CsvRow>();
        var fields = new List<string>();
        var field = new StringBuilder();
        bool isQuoted = false, wasQuoted = false;
        int line = 1, start = 1;
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            if (isQuoted)
            {
                if (c == '"' && i + 1 < text.Length && text[i + 1] == '"')
                {
                    field.Append('"');
                    i++;
                }
                else if (c == '"')
                {
                    isQuoted = false;
                }
                else
                {
                    line += c == '\n' ? 1 : 0;
                    field.Append(c);
                }
            }
            else if (c == '"' && field.Length == 0 && !wasQuoted)
            {
                isQuoted = wasQuoted = true;
            }
            else if (c == ',')
            {
                Field();
            }
            else if (c == '\n' || (c == '\r' && i + 1 < text.Length && text[i + 1] == '\n'))
            {
                if (c == '\r')
                {
                    continue;
                }

                Row();
                start = ++line;
            }
            else if (c == '"' || wasQuoted)
            {
                throw new FormatException();
            }
            else
            {
                field.Append(c);
            }
        }

        if (isQuoted)
        {
            throw new FormatException();
        }

        Row();
        return Show(rows);

        void Field()
        {
            fields.Add(field.ToString());
            field.Clear();
            wasQuoted = false;
        }

        void Row()
        {
            var isEmpty = fields.Count == 0 && field.Length == 0 && !wasQuoted;
            Field();
            if (!isEmpty)
            {
                rows.Add(new CsvRow(start, [.. fields]));
            }

            fields.Clear();
        }
    }

    /// <summary>Hands over one character at a time, as a slow pipe may.</summary>
    private sealed class OneByOneReader(string text) : StringReader(text)
    {
        public override int Read(char[] buffer, int index, int count) => base.Read(buffer, index, Math.Min(1, count));
    }
}
