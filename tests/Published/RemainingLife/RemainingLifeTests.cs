using System.Globalization;
using System.Text.Json;
using Vanehour.Models.RemainingLife;
using Xunit.Abstractions;

namespace Vanehour.Published.RemainingLife;

/// <summary>Learned remaining life on the engines of C-MAPSS FD001, with what cross-validation on the training file chose; see SOURCE.md beside the data.</summary>
public sealed class RemainingLifeTests(ITestOutputHelper output)
{
    [Fact]
    public void TestEngines_ArePredictedBetterThanByThePublishedMethods_AndTheirIntervalsHold()
    {
        var model = RemainingLifeModel.Learn(
            Engines.Read(Open("train_FD001.txt.gz"), true), Engines.Task with { Windows = [[20, 60, 200]], Kinds = [LearnerKind.BoostedTrees] }, 1, CancellationToken.None)!;
        Assert.Equal(100, model.Units);
        var test = Engines.Read(Open("test_FD001.txt.gz"), false);
        var score = Engines.Score([.. test.Select(model.Predict)], Engines.ReadTruth(Open("RUL_FD001.txt.gz")));
        output.WriteLine(score.ToString());

        Assert.Equal(100, score.Count);
        var published = Published();
        Assert.Equal(12, published.Count);
        Assert.True(score.Rmse < published.Min(), $"{score.Rmse:F2} against {published.Min():F2}");
        Assert.InRange(score.Inside, 0.77, 0.83);

        using var facts = JsonDocument.Parse(Text("fd001-facts.json"));
        var baseline = facts.RootElement.GetProperty("linear_baseline").GetProperty("results")[0].GetProperty("test_vs_capped_rul").GetProperty("rmse").GetDouble();
        Assert.Equal(20.82, baseline, 0.01);
        Assert.True(score.RmseCapped < 0.6 * baseline);
    }

    private static List<double> Published()
    {
        var lines = Text("published-rmse-fd001.csv").Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);

        // Publications hold commas inside quotes; the error is the third column from there on.
        return [.. lines.Skip(1).Select(l => l.Split('"') is [_, _, var after] ? after.Split(',')[2] : l.Split(',')[3]).Select(t => double.Parse(t, CultureInfo.InvariantCulture))];
    }

    private static Stream Open(string name) => typeof(RemainingLifeTests).Assembly.GetManifestResourceStream("RemainingLife/" + name)!;

    private static string Text(string name)
    {
        using var reader = new StreamReader(Open(name));
        return reader.ReadToEnd();
    }
}
