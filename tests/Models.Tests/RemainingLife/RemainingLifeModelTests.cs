using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;
using Vanehour.Models.RemainingLife;
using Xunit.Abstractions;

namespace Vanehour.Models.Tests.RemainingLife;

/// <summary>Units with two noisy indicators that grow with the square of the share of life spent, and one of mere noise; lives differ by a third.</summary>
public sealed class RemainingLifeModelTests(ITestOutputHelper output)
{
    private static readonly RemainingLifeTask Task = new() { Cap = 60, Windows = [[5], [10, 30]] };

    [Fact]
    public void NewUnits_ArePredicted_AndTheirIntervalsHold()
    {
        var model = RemainingLifeModel.Learn([.. Enumerable.Range(0, 60).Select(i => Unit(i))], Task with { Windows = [[10, 30]], Kinds = [LearnerKind.BoostedTrees] }, 1, CancellationToken.None)!;
        var cut = Enumerable.Range(1000, 300).Select(i => (Whole: Unit(i), Share: new MersenneTwister(i).NextDouble())).Select(u =>
        {
            var seen = Math.Max(5, (int)(u.Share * u.Whole.Ages.Count));
            return (Seen: Cut(u.Whole, seen), Left: u.Whole.EndsAtAge!.Value - seen);
        }).ToList();
        var predictions = cut.ConvertAll(c => model.Predict(c.Seen));
        var inside = predictions.Zip(cut, (p, c) => c.Left >= p.Low && !(c.Left > p.High)).Count(i => i) / (double)cut.Count;
        var rmse = Math.Sqrt(predictions.Zip(cut, (p, c) => p.Expected - Math.Min(60, c.Left)).Average(e => e * e));
        var constant = cut.Select(c => Math.Min(60, c.Left)).ToList();
        var spread = Math.Sqrt(constant.Average(l => (l - constant.Average()) * (l - constant.Average())));
        output.WriteLine($"{model.Candidate}: rmse {rmse:F2} beside {spread:F2}, inside {inside:F3}");
        Assert.True(rmse < 0.5 * spread);

        // 99.9 % limits of 300 trials, and the error that 60 units leave in a band's two quantiles.
        var half = 3.29 * Math.Sqrt(0.8 * 0.2 * ((1.0 / 300) + (1.0 / 60)));
        Assert.InRange(inside, 0.8 - half, 0.8 + half);
    }

    [Fact]
    public void Candidates_AreScoredOnUnitsHeldOut_AndTheBestIsTaken()
    {
        var units = Enumerable.Range(0, 25).Select(i => Unit(i)).ToList();
        var model = RemainingLifeModel.Learn(units, Task, 1, CancellationToken.None)!;
        Assert.Equal(Task.Candidates.Length, model.Scores.Length);
        Assert.Equal(model.Scores.Min(s => s.Rmse), model.Scores.First(s => s.Candidate == model.Candidate).Rmse);
        Assert.Equal(units.Sum(u => u.Ages.Count - Task.FewestAges + 1), model.HeldOut.Length);
        Assert.All(model.HeldOut, h => Assert.Equal(Math.Min(60, units.First(u => u.Unit == h.Unit).EndsAtAge!.Value - h.Age), h.CameTrue, 1e-9));

        // What is known by heart is missed by less than what is not.
        var byHeart = units.Select(u => model.Predict(Cut(u, u.Ages.Count - 20)).Expected - 20).Average(Math.Abs);
        var heldOut = model.HeldOut.Where(h => h.CameTrue == 20).Average(h => Math.Abs(h.Predicted - 20));
        Assert.True(byHeart < heldOut, $"{byHeart} {heldOut}");
    }

    [Fact]
    public void UnitsThatStillRun_TeachNothing_AndTheSameSeedGivesTheSame()
    {
        var ended = Enumerable.Range(0, 25).Select(i => Unit(i)).ToList();
        var running = Enumerable.Range(100, 10).Select(i => Unit(i) with { EndsAtAge = null });
        var task = Task with { Windows = [[10, 30]] };
        var one = RemainingLifeModel.Learn(ended, task, 3, CancellationToken.None)!;
        var other = RemainingLifeModel.Learn([.. running, .. ended.AsEnumerable().Reverse()], task, 3, CancellationToken.None)!;
        Assert.Equal(25, other.Units);
        Assert.Equal(string.Join(' ', one.Scores), string.Join(' ', other.Scores));
        Assert.Equal(one.HeldOut.AsEnumerable(), other.HeldOut);
        var unit = Cut(Unit(7), 40);
        Assert.Equal(one.Predict(unit), other.Predict(unit with { EndsAtAge = 40 }));
    }

    [Fact]
    public void TooFewEndedLives_TeachNothing()
    {
        Assert.Null(RemainingLifeModel.Learn([], Task, 1, CancellationToken.None));
        Assert.Null(RemainingLifeModel.Learn([.. Enumerable.Range(0, 19).Select(i => Unit(i))], Task, 1, CancellationToken.None));
    }

    [Fact]
    public void WhatWasNotMeasured_AndWhatNeverChanges_AreNoTrouble()
    {
        // One indicator is missing half of the time, one always, one stands still.
        var units = Enumerable.Range(0, 25).Select(i => Unit(i)).Select(u => u with
        {
            Indicators = [.. u.Indicators.Select((r, t) => (IReadOnlyList<double>)[t % 2 == 0 ? double.NaN : r[0], r[1], double.NaN, 7])],
        }).ToList();
        var model = RemainingLifeModel.Learn(units, Task with { Windows = [[10, 30]] }, 1, CancellationToken.None)!;
        Assert.All(model.HeldOut, h => Assert.InRange(h.Predicted, 0, 60));
        Assert.True(model.Scores[0].Rmse < 12, model.Scores[0].ToString());
        var nothing = model.Predict(new UnitHistory("N", [1, 2], [[double.NaN, double.NaN, double.NaN, double.NaN], [double.PositiveInfinity, double.NaN, double.NaN, 7]], null));
        Assert.InRange(nothing.Expected, 0, 60);
    }

    [Fact]
    public void UnsoundHistories_AreRefused_ByName()
    {
        var good = Enumerable.Range(0, 20).Select(i => Unit(i)).ToList();
        Refused(good[3] with { Ages = [.. good[3].Ages.Reverse()] }, "grow");
        Refused(good[3] with { Ages = [double.NaN, .. good[3].Ages.Skip(1)] }, "finite");
        Refused(good[3] with { Indicators = [.. good[3].Indicators.Skip(1)] }, "row of 3");
        Refused(good[3] with { Indicators = [[1.0], .. good[3].Indicators.Skip(1)] }, "row of 3");
        Refused(good[3] with { EndsAtAge = 10 }, "before it was last seen");
        Refused(good[4], "twice");
        var refused = Assert.Throws<ArgumentException>(() => RemainingLifeModel.Learn(good, Task with { Cap = 0, Windows = [[-1]], Folds = 1 }, 1, CancellationToken.None));
        Assert.Contains("cap", refused.Message, StringComparison.Ordinal);
        Assert.Contains("windows", refused.Message, StringComparison.Ordinal);
        Assert.Contains("groups", refused.Message, StringComparison.Ordinal);

        void Refused(UnitHistory bad, string why)
        {
            var e = Assert.Throws<ArgumentException>(() => RemainingLifeModel.Learn([.. good.Take(3), bad, .. good.Skip(4)], Task, 1, CancellationToken.None));
            Assert.Contains(bad.Unit, e.Message, StringComparison.Ordinal);
            Assert.Contains(why, e.Message, StringComparison.Ordinal);
        }
    }

    private static UnitHistory Cut(UnitHistory unit, int count) => new(unit.Unit, [.. unit.Ages.Take(count)], [.. unit.Indicators.Take(count)], null);

    private static UnitHistory Unit(int number)
    {
        var random = new MersenneTwister(number + 1);
        var life = (int)Math.Round(100 * Math.Exp(Normal.Sample(random, 0, 0.3)));
        var ages = Enumerable.Range(1, life).Select(t => (double)t).ToList();
        return new UnitHistory(
            $"U{number:000}",
            ages,
            [.. ages.Select(a => (IReadOnlyList<double>)[Math.Pow(a / life, 2) + Noise(), (5 * Math.Pow(a / life, 2)) + (5 * Noise()), Noise()])],
            life);

        double Noise() => Normal.Sample(random, 0, 0.05);
    }
}
