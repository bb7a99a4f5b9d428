using Vanehour.Models.RemainingLife;

namespace Vanehour.Models.Tests.RemainingLife;

/// <summary>Counted by hand.</summary>
public sealed class HeldOutErrorsTests
{
    [Fact]
    public void OneErrorAUnit_IsSplitConformal()
    {
        // 19 units: 0.9 x (1 + 1/19) x 19 = 18 votes in each tail.
        var errors = new HeldOutErrors([.. Enumerable.Range(1, 19).Select(i => new HeldOutError($"U{i}", 5, i))], 0.8);
        Assert.Equal((2, 18), errors.Band(5));
        Assert.Equal((2, 18), errors.Band(500));
    }

    [Fact]
    public void UnitsHaveOneVote_HoweverManyRows()
    {
        // A unit with a hundred rows of a wild error weighs like one row of it.
        var errors = new HeldOutErrors(
            [.. Enumerable.Range(1, 18).Select(i => new HeldOutError($"U{i}", 5, i)), .. Enumerable.Range(0, 100).Select(_ => new HeldOutError("wild", 5, 1000))], 0.8);
        Assert.Equal((2, 18), errors.Band(5));
    }

    [Fact]
    public void TooFewUnits_LeaveTheRangeOpen()
    {
        var errors = new HeldOutErrors([.. Enumerable.Range(1, 8).Select(i => new HeldOutError($"U{i}", 5, i))], 0.8);
        Assert.Equal((double.NegativeInfinity, double.PositiveInfinity), errors.Band(5));
        Assert.Equal((double.NegativeInfinity, double.PositiveInfinity), new HeldOutErrors([], 0.8).Band(5));
    }

    [Fact]
    public void LowAndHighPredictions_HaveTheirOwnErrors()
    {
        // 40 units, each once low with a small error and once high with a large one: two bands of 20 votes.
        var errors = new HeldOutErrors(
            [.. Enumerable.Range(1, 40).SelectMany(i => new[] { new HeldOutError($"U{i}", 1, i / 40.0), new HeldOutError($"U{i}", 100, i) })], 0.8);
        var low = errors.Band(1);
        var high = errors.Band(100);
        Assert.Equal(40 * low.High, high.High, 1e-9);
        Assert.InRange(high.High, 36, 38);
        Assert.InRange(high.Low, 3, 5);
    }
}
