namespace Vanehour.Store.Influx;

/// <summary>A row of an answer in CSV, valid until the next is read.</summary>
internal readonly struct CsvRow
{
    private readonly string line;
    private readonly IReadOnlyList<Range>? plain;
    private readonly IReadOnlyList<string>? quoted;

    /// <summary>A row whose cells are parts of a line.</summary>
    public CsvRow(string line, IReadOnlyList<Range> cells, bool isHeader) => (this.line, plain, IsHeader) = (line, cells, isHeader);

    /// <summary>A row whose cells were taken out of their quotes.</summary>
    public CsvRow(IReadOnlyList<string> cells, bool isHeader) => (line, quoted, IsHeader) = (string.Empty, cells, isHeader);

    /// <summary>Whether it names the columns of the rows that follow.</summary>
    public bool IsHeader { get; }

    /// <summary>How many cells it has.</summary>
    public int Count => plain?.Count ?? quoted!.Count;

    /// <summary>A cell.</summary>
    public ReadOnlySpan<char> this[int index] => plain is null ? quoted![index] : line.AsSpan()[plain[index]];
}
