using System.Text;

namespace Vanehour.Published.Units;

/// <summary>Rows of a small CSV file beside the tests, by column name. Quoted fields may hold commas and doubled quotes.</summary>
internal static class Table
{
    public static IReadOnlyList<IReadOnlyDictionary<string, string>> Read(string name)
    {
        using var stream = typeof(Table).Assembly.GetManifestResourceStream(name)
            ?? throw new ArgumentException($"There is no table {name}.", nameof(name));
        using var reader = new StreamReader(stream);
        var header = Split(reader.ReadLine()!);
        var rows = new List<IReadOnlyDictionary<string, string>>();
        while (reader.ReadLine() is { } line)
        {
            var fields = Split(line);
            Assert.Equal(header.Count, fields.Count);
            rows.Add(header.Zip(fields).ToDictionary(p => p.First, p => p.Second, StringComparer.Ordinal));
        }

        Assert.NotEmpty(rows);
        return rows;
    }

    private static List<string> Split(string line)
    {
        var fields = new List<string>();
        var field = new StringBuilder();
        var quoted = false;
        for (var i = 0; i < line.Length; i++)
        {
            switch (line[i])
            {
                case '"' when quoted && i + 1 < line.Length && line[i + 1] == '"':
                    field.Append('"');
                    i++;
                    break;
                case '"':
                    quoted = !quoted;
                    break;
                case ',' when !quoted:
                    fields.Add(field.ToString());
                    field.Clear();
                    break;
                default:
                    field.Append(line[i]);
                    break;
            }
        }

        fields.Add(field.ToString());
        return fields;
    }
}
