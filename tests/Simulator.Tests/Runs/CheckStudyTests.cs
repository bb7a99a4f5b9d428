using Vanehour.Bench.Checks;

namespace Vanehour.Simulator.Tests.Runs;

/// <summary>Small versions of the studies in bench/Checks; their figures with dates are in bench/results.</summary>
[Collection(nameof(Studies))]
public class CheckStudyTests
{
    // Of no truck is it known whether it had rested before it was first heard: its first check can't count.
    private static readonly Lazy<List<IReadOnlyList<JudgedCheck>>> Month =
        new(() => [.. CheckStudy.Trucks(CheckStudy.Options(seed: 104, intervalS: 5, trucks: 12, months: 1), null, _ => true).Select(t => (IReadOnlyList<JudgedCheck>)[.. t.Skip(1)])]);

    [Fact]
    public void StartUpChecks_AreRecognised()
    {
        var score = new CheckScore([.. Month.Value.SelectMany(t => t)]);

        Assert.True(score.Good > 150, $"{score.Good} good checks");
        Assert.True(score.Precision >= 0.95, score.Line("precision"));
        Assert.True(score.Recall >= 0.95, score.Line("recall"));
    }

    [Fact]
    public void StandardErrors_Cover()
    {
        var flow = ErrorCoverage.Of(Month.Value, CheckStudy.NetFlow);
        var leak = ErrorCoverage.Of(Month.Value, CheckStudy.LeakRatio);

        // Right errors cover 0.683 and 0.954; three standard deviations of so few pairs to both sides.
        foreach (var coverage in new[] { flow, leak })
        {
            Assert.True(coverage.Pairs >= 60, $"{coverage.Pairs} pairs");
            var one = 3 * Math.Sqrt(0.683 * 0.317 / coverage.Pairs);
            var two = 3 * Math.Sqrt(0.954 * 0.046 / coverage.Pairs);
            Assert.InRange(coverage.WithinOne, 0.683 - one, 0.683 + one);
            Assert.InRange(coverage.WithinTwo, 0.954 - two, 1);
        }
    }

    [Fact]
    public void Dirt_LeavesRunsNearlyAsTheyWere()
    {
        var pairs = DirtStudy.Pairs(seed: 104, trucks: 4, months: 1, dirt: 3);

        Assert.True(pairs.Count > 300, $"{pairs.Count} runs");
        Assert.True(pairs.Count(p => p.Clean is not null && p.Dirty is not null) >= 0.99 * pairs.Count);
        var farOff = pairs.Where(p => p.IsFarOff).Select(p => p.Line).ToList();
        Assert.True(farOff.Count <= 0.02 * pairs.Count, string.Join('\n', farOff));

        // Whatever is far off had something done to it in that time.
        Assert.All(pairs.Where(p => p.IsFarOff), p => Assert.NotEmpty(p.Events));
    }
}
