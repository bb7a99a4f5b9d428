using System.Text;
using Vanehour.Board.Desk;
using Vanehour.Host.Output;

namespace Vanehour.Host.Pages;

/// <summary>Takes what a command says: tables as tables, the rest as sentences.</summary>
internal sealed class DeskOutput : StringWriter, ITableTaker
{
    private readonly List<DeskTable> tables = [];

    /// <summary>The tables so far.</summary>
    public IReadOnlyList<DeskTable> Tables => tables;

    /// <summary>The lines so far that say something.</summary>
    public IReadOnlyList<string> Sentences => [.. ToString().Split('\n').Select(l => l.Trim()).Where(l => l.Length > 0)];

    /// <inheritdoc/>
    public override Encoding Encoding => Encoding.UTF8;

    public void Take(IReadOnlyList<(string Name, string Heading, bool IsNumber)> columns, IReadOnlyList<IReadOnlyList<string>> rows) =>
        tables.Add(new DeskTable([.. columns.Select(c => new DeskColumn(c.Name, c.Heading, c.IsNumber))], rows));
}
