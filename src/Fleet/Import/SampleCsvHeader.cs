using System.Collections.Immutable;

namespace Vanehour.Fleet.Import;

/// <summary>The header of a sample file, understood.</summary>
internal sealed class SampleCsvHeader
{
    private SampleCsvHeader(int fieldCount, int truck, int time, ImmutableArray<(int Position, SampleColumn Column)> signals)
    {
        FieldCount = fieldCount;
        Truck = truck;
        Time = time;
        Signals = signals;
    }

    public int FieldCount { get; }

    public int Truck { get; }

    public int Time { get; }

    public ImmutableArray<(int Position, SampleColumn Column)> Signals { get; }

    /// <summary>Understands the names in the header, or says what is wrong with them.</summary>
    public static SampleCsvHeader? Read(string file, int line, IReadOnlyList<string> names, List<CsvProblem> problems)
    {
        var before = problems.Count;
        var positions = new Dictionary<string, int>(StringComparer.Ordinal);
        var signals = new List<(int Position, SampleColumn Column)>();
        for (var i = 0; i < names.Count; i++)
        {
            var name = names[i];
            if (!positions.TryAdd(name, i))
            {
                Refuse(name, "The column appears twice.");
            }
            else if (SampleColumn.Find(name) is { } column)
            {
                if (signals.Select(s => s.Column).FirstOrDefault(c => c.Signal == column.Signal) is { } other)
                {
                    Refuse(name, $"Both {other.Name} and {name} are given; give one.");
                }

                signals.Add((i, column));
            }
            else if (name is not (SampleColumn.Truck or SampleColumn.Time))
            {
                Refuse(name, $"The column '{name}' is not one of a sample file's: {Known(name)}.");
            }
        }

        foreach (var needed in new[] { SampleColumn.Truck, SampleColumn.Time }.Where(n => !positions.ContainsKey(n)))
        {
            Refuse(needed, $"The column {needed} is missing.");
        }

        if (signals.Count == 0 && problems.Count == before)
        {
            Refuse(null, $"There is no signal's column, as {SampleColumn.Canonical[(int)Signal.Vacuum].Name}.");
        }

        return problems.Count > before
            ? null
            : new SampleCsvHeader(names.Count, positions[SampleColumn.Truck], positions[SampleColumn.Time], [.. signals]);

        void Refuse(string? column, string reason) => problems.Add(new CsvProblem(file, line, column, reason));
    }

    // A known signal with another ending is a unit we do not take, or none.
    private static string Known(string name)
    {
        var signal = SignalInfo.All.Where(s => name.StartsWith(s.Name, StringComparison.Ordinal)).MaxBy(s => s.Name.Length);
        return signal is null
            ? $"truck, time, and {string.Join(", ", SignalInfo.All.Select(s => s.Name))} with the unit as ending"
            : $"{signal.Name} is given as {string.Join(", ", SampleColumn.Of(signal).Select(c => c.Name))}";
    }
}
