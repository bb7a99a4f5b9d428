namespace Vanehour.Host.Output;

/// <summary>A place that takes tables as tables, not as lines of text.</summary>
internal interface ITableTaker
{
    /// <summary>Takes a table.</summary>
    /// <param name="columns">Name in files, heading, and whether the values are numbers.</param>
    /// <param name="rows">The cells as people read them.</param>
    void Take(IReadOnlyList<(string Name, string Heading, bool IsNumber)> columns, IReadOnlyList<IReadOnlyList<string>> rows);
}
