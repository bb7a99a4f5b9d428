using System.Diagnostics;
using System.Globalization;
using Vanehour.Models.RemainingLife;
using Vanehour.Published.RemainingLife;

namespace Vanehour.Bench;

/// <summary>The generic form of learned remaining life on NASA's C-MAPSS FD001: chosen by engines of the training file held out, scored on the test file.</summary>
internal static class EngineStudy
{
    public static void Run(string folder, bool withTest, TextWriter output)
    {
        var watch = Stopwatch.StartNew();
        var model = RemainingLifeModel.Learn(Engines.Read(Open("train_FD001.txt.gz"), true), Engines.Task, 1, CancellationToken.None)!;
        foreach (var score in model.Scores)
        {
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{score.Rmse,8:F2} ({score.Se:F2})  {score.Candidate}"));
        }

        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"chosen and learned in {watch.Elapsed.TotalSeconds:F0} s, {Process.GetCurrentProcess().TotalProcessorTime.TotalSeconds:F0} s of processor time: {model.Candidate}"));
        if (withTest)
        {
            var score = Engines.Score([.. Engines.Read(Open("test_FD001.txt.gz"), false).Select(model.Predict)], Engines.ReadTruth(Open("RUL_FD001.txt.gz")));
            output.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"test, {score.Count} engines: RMSE {score.Rmse:F2} against the true remaining life, {score.RmseCapped:F2} against it capped; PHM08 score {score.Phm08:F0}; inside the 80 % interval {score.Inside:F2}, before {score.Before}, after {score.After}"));
        }

        Stream Open(string name) => File.OpenRead(Path.Combine(folder, name));
    }
}
