using System.Diagnostics;
using System.Globalization;
using System.IO.Compression;
using Vanehour.Models.RemainingLife;

namespace Vanehour.Bench;

/// <summary>The generic form of learned remaining life on NASA's C-MAPSS FD001: chosen by engines of the training file held out, scored on the test file.</summary>
internal static class EngineStudy
{
    private const int FirstSensor = 2;

    public static void Run(string folder, bool withTest, TextWriter output)
    {
        var watch = Stopwatch.StartNew();
        var training = Read(Path.Combine(folder, "train_FD001.txt.gz"), true);
        var model = RemainingLifeModel.Learn(training, Options, 1, CancellationToken.None)!;
        foreach (var score in model.Scores)
        {
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{score.Rmse,8:F2} ({score.Se:F2})  {score.Candidate}"));
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"chosen and learned in {watch.Elapsed.TotalSeconds:F0} s: {model.Candidate}"));
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"training engines held out, inside their own intervals: {Inside(model):F3}"));
        if (!withTest)
        {
            return;
        }

        var truth = ReadLines(Path.Combine(folder, "RUL_FD001.txt.gz")).Select(l => double.Parse(l, CultureInfo.InvariantCulture)).ToList();
        var predictions = Read(Path.Combine(folder, "test_FD001.txt.gz"), false).Select(model.Predict).ToList();
        var errors = predictions.Zip(truth, (p, t) => p.Expected - t).ToList();
        var capped = predictions.Zip(truth, (p, t) => p.Expected - Math.Min(Options.Cap, t)).ToList();
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"test, {truth.Count} engines: RMSE {Rms(errors):F2} against the true remaining life, {Rms(capped):F2} against it capped; PHM08 score {errors.Sum(e => Math.Exp(e < 0 ? -e / 13 : e / 10) - 1):F0}"));
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"80 % intervals: {predictions.Zip(truth, (p, t) => t >= p.Low && !(t > p.High)).Count(i => i)} of {truth.Count} inside; before {predictions.Zip(truth, (p, t) => t < p.Low).Count(i => i)}, after {predictions.Zip(truth, (p, t) => t > p.High).Count(i => i)}; median width {predictions.Select(p => (p.High ?? Options.Cap) - p.Low).Order().ElementAt(truth.Count / 2):F0} cycles"));
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"all in {watch.Elapsed.TotalSeconds:F0} s"));
    }

    private static RemainingLifeOptions Options => new()
    {
        Cap = 125,
        Windows = [[10, 30], [10, 30, 80], [20, 60, 200]],
    };

    private static double Inside(RemainingLifeModel model) => model.HeldOut
        .Select(h => (h.Unit, IsIn: model.About(h.Predicted) is var p && h.CameTrue >= p.Low && !(h.CameTrue > p.High)))
        .GroupBy(r => r.Unit).Average(g => g.Average(r => r.IsIn ? 1.0 : 0));

    private static double Rms(IReadOnlyCollection<double> errors) => Math.Sqrt(errors.Average(e => e * e));

    private static List<UnitHistory> Read(string path, bool hasEnded) =>
    [
        .. ReadLines(path)
            .Select(l => l.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(f => double.Parse(f, CultureInfo.InvariantCulture)).ToArray())
            .GroupBy(r => r[0])
            .Select(g => new UnitHistory(
                g.Key.ToString("000", CultureInfo.InvariantCulture),
                [.. g.Select(r => r[1])],
                [.. g.Select(r => r[FirstSensor..])],
                hasEnded ? g.Last()[1] : null)),
    ];

    private static IEnumerable<string> ReadLines(string path)
    {
        using var reader = new StreamReader(new GZipStream(File.OpenRead(path), CompressionMode.Decompress));
        while (reader.ReadLine() is { } line)
        {
            if (line.Trim().Length > 0)
            {
                yield return line;
            }
        }
    }
}
