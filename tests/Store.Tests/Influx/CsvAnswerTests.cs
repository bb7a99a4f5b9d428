using Vanehour.Store.Influx;

namespace Vanehour.Store.Tests.Influx;

/// <summary>The CSV of InfluxQL answers.</summary>
public sealed class CsvAnswerTests
{
    [Fact]
    public async Task Tables_ComeWithTheirHeaders()
    {
        var rows = await ReadAsync("name,tags,time,vacuum\npump,,1,50\npump,,2,\n\nname,tags,time,baro\npump,,3,101.3\n");

        Assert.Equal(["H name|tags|time|vacuum", "pump||1|50", "pump||2|", "H name|tags|time|baro", "pump||3|101.3"], rows);
    }

    [Fact]
    public async Task QuotedCells_MayHoldCommasQuotesAndLineBreaks() =>
        Assert.Equal(["H a|b", "x,y|say \"hi\"\nthere"], await ReadAsync("a,b\n\"x,y\",\"say \"\"hi\"\"\nthere\"\n"));

    [Theory]
    [InlineData("error\ndatabase not found: x\n", "database not found: x")]
    [InlineData("name,tags,time\npump,,1\n\nerror\n\"timeout, after 3 s\"\n", "timeout, after 3 s")]
    [InlineData("error\n", "an error without a message")]
    public async Task ErrorInsideAnAnswer_IsAnError(string answer, string message) =>
        Assert.Equal(message, (await Assert.ThrowsAsync<InvalidOperationException>(() => ReadAsync(answer))).Message);

    [Fact]
    public async Task EmptyAnswer_HasNoRows() => Assert.Empty(await ReadAsync(string.Empty));

    private static async Task<List<string>> ReadAsync(string answer)
    {
        var rows = new List<string>();
        using var reader = new StringReader(answer);
        await CsvAnswer.ReadAsync(reader, Add, m => new InvalidOperationException(m), CancellationToken.None);
        return rows;

        void Add(CsvRow row)
        {
            var cells = new List<string>();
            for (var i = 0; i < row.Count; i++)
            {
                cells.Add(row[i].ToString());
            }

            rows.Add((row.IsHeader ? "H " : string.Empty) + string.Join('|', cells));
        }
    }
}
