using System.Globalization;
using System.Text.Json;

namespace Vanehour.Published;

/// <summary>A data file of a folder, and the values beside it.</summary>
internal sealed class DataFile
{
    private readonly string[] names;
    private readonly List<string[]> rows;

    private DataFile(string[] names, List<string[]> rows, JsonElement values) => (this.names, this.rows, Values) = (names, rows, values);

    public JsonElement Values { get; }

    /// <param name="name">Folder and file without its ending, as Degradation/gaas-laser.</param>
    public static DataFile Open(string name)
    {
        var lines = Text(name + ".csv").Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        using var document = JsonDocument.Parse(Text(name + ".json"));
        return new DataFile(lines[0].Split(','), [.. lines.Skip(1).Select(l => l.Split(','))], document.RootElement.Clone());
    }

    public string[] Texts(string column) => [.. rows.Select(r => r[Array.IndexOf(names, column)])];

    public double[] Numbers(string column) => [.. Texts(column).Select(t => double.Parse(t, CultureInfo.InvariantCulture))];

    /// <summary>Positions of the rows of each value of a column, in order of first appearance.</summary>
    public IEnumerable<(string Value, int[] Rows)> By(string column) =>
        Texts(column).Select((v, i) => (v, i)).GroupBy(p => p.v, (v, of) => (v, of.Select(p => p.i).ToArray()));

    private static string Text(string name)
    {
        using var reader = new StreamReader(typeof(DataFile).Assembly.GetManifestResourceStream(name)!);
        return reader.ReadToEnd();
    }
}
