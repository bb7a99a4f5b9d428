using System.Globalization;
using System.IO.Compression;
using Vanehour.Models.RemainingLife;

namespace Vanehour.Published.RemainingLife;

/// <summary>The engines of C-MAPSS FD001, and the protocol by which predictions of their remaining life are scored; see SOURCE.md.</summary>
internal static class Engines
{
    /// <summary>Remaining life above this is learned as this, cycles: the cap of the published table.</summary>
    public const double Cap = 125;

    // Columns: unit, cycle, three settings, 21 sensors.
    private const int FirstIndicator = 2;

    /// <summary>What the training file was left to choose from.</summary>
    public static readonly RemainingLifeTask Task = new() { Cap = Cap, Windows = [[10, 30], [10, 30, 80], [20, 60, 200]] };

    /// <summary>Reads a file of engines.</summary>
    /// <param name="compressed">The file, gzip.</param>
    /// <param name="toTheEnd">Whether each engine ran to its end at its last cycle.</param>
    public static List<UnitHistory> Read(Stream compressed, bool toTheEnd) =>
    [
        .. Lines(compressed)
            .Select(l => l.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(f => double.Parse(f, CultureInfo.InvariantCulture)).ToArray())
            .GroupBy(r => r[0])
            .Select(g => new UnitHistory(
                g.Key.ToString("000", CultureInfo.InvariantCulture), [.. g.Select(r => r[1])], [.. g.Select(r => r[FirstIndicator..])], toTheEnd ? g.Last()[1] : null)),
    ];

    /// <summary>Reads the true remaining lives of the test engines, cycles.</summary>
    public static List<double> ReadTruth(Stream compressed) => [.. Lines(compressed).Select(l => double.Parse(l, CultureInfo.InvariantCulture))];

    /// <summary>Scores predictions: root mean square error against the true and against the capped remaining life, the score of the PHM08 challenge, and how many lie inside their interval.</summary>
    public static EngineScore Score(IReadOnlyList<RemainingLifePrediction> predictions, IReadOnlyList<double> truth)
    {
        var both = predictions.Zip(truth).ToList();
        return new EngineScore(
            Rms(both.Select(b => b.First.Expected - b.Second)),
            Rms(both.Select(b => b.First.Expected - Math.Min(Cap, b.Second))),
            both.Select(b => b.First.Expected - b.Second).Sum(e => Math.Exp(e < 0 ? -e / 13 : e / 10) - 1),
            both.Count(b => b.Second < b.First.Low),
            both.Count(b => b.Second > b.First.High),
            both.Count);

        static double Rms(IEnumerable<double> errors) => Math.Sqrt(errors.Average(e => e * e));
    }

    private static IEnumerable<string> Lines(Stream compressed)
    {
        using var reader = new StreamReader(new GZipStream(compressed, CompressionMode.Decompress));
        while (reader.ReadLine() is { } line)
        {
            if (!string.IsNullOrWhiteSpace(line))
            {
                yield return line;
            }
        }
    }
}
