using Vanehour.Models.MixedEffects;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Tests.MixedEffects;

/// <summary>What data may do to a mixed fit: a status with words, never an exception.</summary>
public sealed class DegenerateMixedTests
{
    [Fact]
    public void OneGroup() => Refused(Made() with { Groups = [.. Enumerable.Repeat("P0", Made().Rows.Count)] }, FitStatus.Degenerate, "one group");

    [Fact]
    public void NoRows() => Refused(new MixedProblem { Columns = ["x"], Rows = [], Responses = [], Groups = [] }, FitStatus.Degenerate, "0 observations");

    [Fact]
    public void TooFewRows() => Refused(
        new MixedProblem { Columns = ["x"], Rows = [[1], [2]], Responses = [1, 3], Groups = ["a", "b"] }, FitStatus.Degenerate, "2 observations");

    [Fact]
    public void OneRowInEachGroup() => Refused(
        new MixedProblem { Columns = ["x"], Rows = [[1], [2], [3], [5]], Responses = [1, 3, 2, 4], Groups = ["a", "b", "c", "d"] }, FitStatus.Degenerate, "no more rows than effects");

    [Fact]
    public void SlopeThatNoGroupTells()
    {
        var made = Made();
        Refused(made with { Rows = [.. made.Groups.Select(g => new[] { (double)g[^1] })], RandomSlopes = [0] }, FitStatus.Degenerate, "its own slope");
    }

    [Fact]
    public void NotFinite()
    {
        var made = Made();
        double[][] rows = [.. made.Rows];
        rows[4] = [double.NaN];
        Refused(made with { Rows = rows }, FitStatus.Failed, "Row 4");
        double[] y = [.. made.Responses];
        y[7] = double.PositiveInfinity;
        Refused(made with { Responses = y }, FitStatus.Failed, "Row 7");
    }

    [Fact]
    public void ColumnsThatDependOnOneAnother()
    {
        var made = Made();
        var fit = Refused(made with { Columns = ["x", "twice"], Rows = [.. made.Rows.Select(r => new[] { r[0], 2 * r[0] })] }, FitStatus.Degenerate, "\"twice\" is a combination");
        Assert.Equal(1, fit.OffendingColumn);
        Refused(made with { Rows = [.. made.Rows.Select(_ => new[] { 7.0 })] }, FitStatus.Degenerate, "does not vary");
    }

    [Fact]
    public void NoScatter()
    {
        var made = Made();
        Refused(made with { Responses = [.. made.Rows.Select(r => 3 + (2 * r[0]))] }, FitStatus.Degenerate, "exactly");
        Refused(made with { Responses = [.. made.Rows.Zip(made.Groups, (r, g) => (100 * g[^1]) + (2 * r[0]))] }, FitStatus.Degenerate, "exactly");
        Refused(made with { Responses = [.. made.Rows.Select(_ => 5.0)] }, FitStatus.Degenerate, "exactly");
    }

    [Fact]
    public void AnyData_EndsInWordsOrAFit()
    {
        var random = new Random(2);
        for (var i = 0; i < 400; i++)
        {
            var n = random.Next(0, 14);
            var problem = new MixedProblem
            {
                Columns = ["x"],
                Rows = [.. Enumerable.Range(0, n).Select(_ => new[] { (double)random.Next(3) })],
                Responses = [.. Enumerable.Range(0, n).Select(_ => random.Next(4) * Math.Pow(10, random.Next(-150, 150) / (1 + random.Next(100))))],
                Groups = [.. Enumerable.Range(0, n).Select(_ => $"P{random.Next(4)}")],
                RandomSlopes = random.Next(2) == 0 ? [] : [0],
            };
            var fit = LinearMixedModel.Fit(problem, i % 2 == 0 ? MixedCriterion.Ml : MixedCriterion.Reml);
            if (fit.Status == FitStatus.Converged)
            {
                Assert.True(double.IsFinite(fit.LogLikelihood), $"seed 2, problem {i}");
                Assert.All(fit.Coefficients, c => Assert.True(double.IsFinite(c.Estimate) && c.StandardError > 0, $"seed 2, problem {i}"));
            }
            else
            {
                Assert.NotNull(fit.Reason);
                Assert.Empty(fit.Coefficients);
                Assert.True(double.IsNaN(fit.ResidualScale));
            }
        }
    }

    [Fact]
    public void WrongQuestions_AreTheProgrammersFault()
    {
        var made = Made();
        Assert.Throws<ArgumentException>(() => LinearMixedModel.Fit(made with { Groups = ["P0"] }));
        Assert.Throws<ArgumentException>(() => LinearMixedModel.Fit(made with { Columns = ["x", "y"] }));
        Assert.Throws<ArgumentException>(() => LinearMixedModel.Fit(made with { RandomIntercept = false }));
        Assert.Throws<ArgumentException>(() => LinearMixedModel.Fit(made with { RandomSlopes = [1] }));
        Assert.Throws<ArgumentException>(() => LinearMixedModel.Fit(made with { RandomSlopes = [0, 0] }));
    }

    private static MixedProblem Made() => MadeGroups.Draw(new Random(1), 5, 6).Problem with { RandomSlopes = [] };

    private static MixedFit Refused(MixedProblem problem, FitStatus status, string words)
    {
        var fit = LinearMixedModel.Fit(problem);
        Assert.Equal(status, fit.Status);
        Assert.Contains(words, fit.Reason, StringComparison.Ordinal);
        Assert.Empty(fit.Coefficients);
        Assert.Empty(fit.Groups);
        Assert.True(double.IsNaN(fit.LogLikelihood));
        return fit;
    }
}
