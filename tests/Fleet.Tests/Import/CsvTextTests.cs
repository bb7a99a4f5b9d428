using FsCheck.Xunit;
using Vanehour.Fleet.Import;

namespace Vanehour.Fleet.Tests.Import;

public class CsvTextTests
{
    [Fact] // The examples of RFC 4180 section 2, items 5 to 7.
    public void QuotesCommasAndLineBreaks_AsRfc4180()
    {
        var rows = CsvText.Read("\"aaa\",\"b \r\nbb\",\"ccc\"\r\nzzz,yyy,xxx\r\n\"aaa\",\"b\"\"bb\",\"ccc\"");
        Assert.Equal(["aaa", "b \r\nbb", "ccc"], rows[0].Fields.ToArray());
        Assert.Equal(["zzz", "yyy", "xxx"], rows[1].Fields.ToArray());
        Assert.Equal(["aaa", "b\"bb", "ccc"], rows[2].Fields.ToArray());
        Assert.Equal([1, 3, 4], rows.Select(r => r.Line));
    }

    [Fact]
    public void EmptyFieldsStayAndEmptyLinesDoNot()
    {
        var rows = CsvText.Read("a,b\n\n,\n\"\"\n");
        Assert.Equal([2, 2, 1], rows.Select(r => r.Fields.Length));
        Assert.Equal([1, 3, 4], rows.Select(r => r.Line));
    }

    [Theory]
    [InlineData("a\"b", "Line 1")]
    [InlineData("x\n\"a\"b", "Line 2")]
    [InlineData("x\n\"abc\n\n", "line 2 is never closed")]
    public void QuotesOutOfPlaceAreNamedByLine(string text, string expected) =>
        Assert.Contains(expected, Assert.Throws<FormatException>(() => CsvText.Read(text)).Message, StringComparison.Ordinal);

    [Property]
    public void WhatIsQuotedComesBack(string[] fields)
    {
        ArgumentNullException.ThrowIfNull(fields);
        if (fields.Length == 0)
        {
            return;
        }

        var clean = fields.Select(f => f ?? string.Empty).ToArray();
        var text = string.Join(',', clean.Select(f => '"' + f.Replace("\"", "\"\"", StringComparison.Ordinal) + '"'));
        Assert.Equal(clean, Assert.Single(CsvText.Read(text)).Fields.ToArray());
    }
}
