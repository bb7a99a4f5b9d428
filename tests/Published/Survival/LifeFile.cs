using System.Globalization;
using System.Text.Json;
using Vanehour.Models.Survival;

namespace Vanehour.Published.Survival;

/// <summary>A data file and the values beside it.</summary>
internal sealed class LifeFile
{
    private readonly List<Dictionary<string, string>> rows;

    private LifeFile(List<Dictionary<string, string>> rows, JsonElement values)
    {
        this.rows = rows;
        Values = values;
    }

    public JsonElement Values { get; }

    public static LifeFile Open(string name)
    {
        var lines = Text(name + ".csv").Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        var names = lines[0].Split(',');
        return new LifeFile([.. lines.Skip(1).Select(l => names.Zip(l.Split(',')).ToDictionary(p => p.First, p => p.Second, StringComparer.Ordinal))], Json(name));
    }

    public static JsonElement Json(string name)
    {
        using var document = JsonDocument.Parse(Text(name + ".json"));
        return document.RootElement.Clone();
    }

    /// <summary>The lifetimes of rows in which a column has a value; of all without one.</summary>
    public List<Lifetime> Lifetimes(string? column = null, string? value = null, string entry = "entry", string exit = "time", string status = "status") =>
    [
        .. rows.Where(r => column is null || r[column] == value).SelectMany(r => Enumerable.Repeat(
            new Lifetime(r.TryGetValue(entry, out var from) ? Number(from) : 0, Number(r[exit]), r[status] == "1")
            {
                FineUntil = r.TryGetValue("fine", out var fine) && fine.Length > 0 ? Number(fine) : null,
            },
            r.TryGetValue("freq", out var times) ? (int)Number(times) : 1)),
    ];

    public List<IReadOnlyList<double>> Columns(params string[] columns) => [.. rows.Select(r => (IReadOnlyList<double>)[.. columns.Select(c => Number(r[c]))])];

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static string Text(string name)
    {
        using var reader = new StreamReader(typeof(LifeFile).Assembly.GetManifestResourceStream("Survival/" + name)!);
        return reader.ReadToEnd();
    }
}
