using FsCheck.Xunit;
using MathNet.Numerics.Distributions;
using Vanehour.Models.ChangePoints;

namespace Vanehour.Models.Tests.ChangePoints;

public sealed class ChangeSearchTests
{
    private static readonly ChangeSearchOptions Options = new();

    [Theory]
    [InlineData(12)]
    [InlineData(30)]
    [InlineData(100)]
    [InlineData(250)]
    public void Noise_HardlyEverLooksLikeAChange(int n)
    {
        const int rows = 2000;
        var random = new Random(41);
        var falsely = Enumerable.Range(0, rows).Count(_ => Changes(Row(n, random, (_, t) => 3 - (0.5 * t))).Count > 0);

        // What LeastEvidence claims, and four standard deviations of the count above it.
        var claimed = n >= 60 ? 0.001 : 0.005;
        Assert.True(falsely <= (claimed * rows) + (4 * Math.Sqrt(claimed * rows)), $"{falsely} of {rows} rows of {n} values");
    }

    [Fact]
    public void CorrelatedNoise_IsAllowedForByRho()
    {
        const int rows = 1000;
        const double rho = 0.4;
        var random = new Random(43);
        int known = 0, unknown = 0;
        for (var row = 0; row < rows; row++)
        {
            var noise = 0.0;
            var values = Enumerable.Range(0, 100).Select(_ => noise = (rho * noise) + (Math.Sqrt(1 - (rho * rho)) * Normal.Sample(random, 0, 1))).ToArray();
            var series = new ChangeSeries([.. Enumerable.Range(0, 100).Select(i => (double)i)], values, [.. values.Select(_ => 1.0)]);
            known += ChangeSearch.Find(series, Options with { Rho = rho }).Count > 0 ? 1 : 0;
            unknown += ChangeSearch.Find(series, Options).Count > 0 ? 1 : 0;
        }

        Assert.True(known <= 30, $"{known} of {rows} with rho known");
        Assert.True(unknown > 3 * Math.Max(1, known), $"{unknown} of {rows} with rho unknown, {known} with rho known");
    }

    /// <summary>A step of 3.5 standard deviations after two thirds of 60 values, on a falling line.</summary>
    [Fact]
    public void Step_IsFoundInItsPlace_AndIsNoDrift()
    {
        var random = new Random(44);
        int found = 0, more = 0, asStep = 0, covered = 0;
        const int rows = 500;
        for (var row = 0; row < rows; row++)
        {
            var changes = Changes(Row(60, random, (i, t) => 1 - (2 * t) + (i >= 40 ? -3.5 : 0)));
            more += changes.Count > 1 ? 1 : 0;
            if (changes.FirstOrDefault(c => Math.Abs(c.After - 39) <= 3) is { } placed)
            {
                found++;
                asStep += placed.Kind == ChangeKind.Step ? 1 : 0;
                covered += Math.Abs(placed.Size + 3.5) <= 1.96 * placed.StandardError ? 1 : 0;
            }
        }

        Assert.True(found >= 0.95 * rows, $"{found} of {rows} found within three values");
        Assert.True(more <= 0.05 * rows, $"{more} of {rows} with a change too many");
        Assert.True(asStep >= 0.98 * found, $"{asStep} of {found} as a step");

        // The place was chosen to make the step large, so its interval covers a little less than 95 %.
        Assert.InRange(covered, (int)(0.85 * found), found);
    }

    /// <summary>A slope that begins after half of 80 values and makes 8 standard deviations by the end.</summary>
    [Fact]
    public void Drift_IsToldFromAStep()
    {
        var random = new Random(45);
        int first = 0, drift = 0;
        const int rows = 500;
        for (var row = 0; row < rows; row++)
        {
            var changes = Changes(Row(80, random, (i, t) => (0.3 * t) + Math.Max(0, (i - 40) * 8 / 39.0)));
            if (changes.Count > 0)
            {
                first++;
                drift += changes.All(c => c.Kind == ChangeKind.Drift) ? 1 : 0;
            }
        }

        Assert.True(first >= 0.97 * rows, $"{first} of {rows} found");
        Assert.True(drift >= 0.9 * first, $"{drift} of {first} as drifts alone");
    }

    [Fact]
    public void TwoSteps_AreBothFound()
    {
        var random = new Random(46);
        var both = Enumerable.Range(0, 200).Count(_ =>
        {
            var changes = Changes(Row(90, random, (i, _) => i < 30 ? 0 : i < 60 ? 4 : 0));
            return changes.Count == 2 && changes.All(c => c.Kind == ChangeKind.Step) && Math.Abs(changes[0].After - 29) <= 1 && Math.Abs(changes[1].After - 59) <= 1;
        });
        Assert.True(both >= 180, $"{both} of 200");
    }

    [Fact]
    public void LoneWildValues_AreNoChange()
    {
        var random = new Random(47);
        var falsely = Enumerable.Range(0, 500).Count(_ => Changes(Row(60, random, (i, t) => t + (i is 20 or 41 or 42 ? 12 : 0))).Count > 0);
        Assert.True(falsely <= 15, $"{falsely} of 500");
    }

    [Fact]
    public void RowWithoutSlope_SeesADriftAsADrift()
    {
        var random = new Random(48);
        var changes = ChangeSearch.Find(Row(60, random, (i, _) => i < 30 ? 0 : (i - 30) / 3.0), Options with { HasSlope = false });
        Assert.Contains(changes, c => c.Kind == ChangeKind.Drift);
    }

    [Fact]
    public void SmallChanges_DoNotCount_WhereTheyDoNotMatter()
    {
        var random = new Random(49);
        var row = Row(100, random, (i, _) => i >= 50 ? 3 : 0);
        Assert.Single(ChangeSearch.Find(row, Options with { MattersFrom = 2 }));
        Assert.Empty(ChangeSearch.Find(row, Options with { MattersFrom = 5 }));
    }

    [Fact]
    public void ExactValues_GiveTheExactStep()
    {
        double[] values = [.. Enumerable.Range(0, 20).Select(i => i < 8 ? 1.0 : 4.0)];
        var change = Assert.Single(ChangeSearch.Find(new ChangeSeries([.. Enumerable.Range(0, 20).Select(i => (double)i)], values, [.. values.Select(_ => 1.0)]), Options));
        Assert.Equal(ChangeKind.Step, change.Kind);
        Assert.Equal(7, change.After);
        Assert.Equal(3, change.Size, 9);
    }

    [Fact]
    public void ShortAndFlatRows_HaveNoChange()
    {
        Assert.Empty(ChangeSearch.Find(new ChangeSeries([], [], []), Options));
        Assert.Empty(ChangeSearch.Find(new ChangeSeries([1, 2, 3], [1, 9, 1], [1, 1, 1]), Options));
        Assert.Empty(ChangeSearch.Find(new ChangeSeries([.. Enumerable.Range(0, 40).Select(i => (double)i)], new double[40], [.. Enumerable.Repeat(1.0, 40)]), Options));
        Assert.Empty(ChangeSearch.Find(new ChangeSeries(new double[40], [.. Enumerable.Repeat(2.0, 40)], [.. Enumerable.Repeat(1.0, 40)]), Options));
    }

    [Fact]
    public void UnsoundRows_AreTheCallersFault()
    {
        Assert.Throws<ArgumentException>(() => ChangeSearch.Find(new ChangeSeries([1, 2], [1], [1, 1]), Options));
        Assert.Throws<ArgumentException>(() => ChangeSearch.Find(new ChangeSeries([2, 1], [1, 1], [1, 1]), Options));
        Assert.Throws<ArgumentException>(() => ChangeSearch.Find(new ChangeSeries([1, 2], [1, double.NaN], [1, 1]), Options));
        Assert.Throws<ArgumentException>(() => ChangeSearch.Find(new ChangeSeries([1, 2], [1, 1], [1, 0]), Options));
    }

    /// <summary>Other units of value and time change nothing but the sizes.</summary>
    [Property(MaxTest = 50)]
    public void Scaling_ScalesOnlyTheSizes(int seed)
    {
        var row = Row(50, new Random(seed), (i, t) => t + (i >= 25 ? 4 : 0));
        var scaled = new ChangeSeries([.. row.Times.Select(t => 100 + (7 * t))], [.. row.Values.Select(v => 10 * v)], [.. row.StandardErrors.Select(s => 10 * s)]);
        var a = Changes(row);
        var b = Changes(scaled);
        Assert.Equal(a.Select(c => (c.Kind, c.After)), b.Select(c => (c.Kind, c.After)));
        Assert.All(a.Zip(b), p => Assert.Equal(10 * p.First.Size, p.Second.Size, 6));
    }

    private static IReadOnlyList<ChangePoint> Changes(ChangeSeries series) => ChangeSearch.Find(series, Options);

    /// <summary>Values with standard deviation 1 about a course over position and time from 0 to 1, at uneven times.</summary>
    private static ChangeSeries Row(int n, Random random, Func<int, double, double> course)
    {
        double[] times = [.. Enumerable.Range(0, n).Select(i => (i + (0.8 * random.NextDouble())) / n)];
        return new ChangeSeries(times, [.. times.Select((t, i) => course(i, t) + Normal.Sample(random, 0, 1))], [.. times.Select(_ => 1.0)]);
    }
}
