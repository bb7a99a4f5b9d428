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
        Assert.Equal((2, 10, 18), errors.Band(5));
        Assert.Equal((2, 10, 18), errors.Band(500));
    }

    [Fact]
    public void UnitsHaveOneVote_HoweverManyRows()
    {
        // A unit with a hundred rows of a wild error weighs like one row of it.
        var errors = new HeldOutErrors(
            [.. Enumerable.Range(1, 18).Select(i => new HeldOutError($"U{i}", 5, i)), .. Enumerable.Range(0, 100).Select(_ => new HeldOutError("wild", 5, 1000))], 0.8);
        Assert.Equal((2, 10, 18), errors.Band(5));
    }

    [Fact]
    public void TooFewUnits_LeaveTheRangeOpen()
    {
        var errors = new HeldOutErrors([.. Enumerable.Range(1, 8).Select(i => new HeldOutError($"U{i}", 5, i))], 0.8);
        Assert.Equal((double.NegativeInfinity, 4, double.PositiveInfinity), errors.Band(5));
        Assert.Equal((double.NegativeInfinity, double.NaN, double.PositiveInfinity), new HeldOutErrors([], 0.8).Band(5));
    }

    /// <summary>
    /// Remission times of leukaemia patients on 6-MP (Freireich et al. 1963), as errors: those still in remission at 6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35 weeks are known to be no less. The published
    /// Kaplan-Meier curve is 0.857 from 6, 0.807 from 7, 0.753 from 10, 0.690 from 13, 0.627 from 16, 0.538 from 22 and 0.448 from 23 weeks on.
    /// </summary>
    [Fact]
    public void ErrorsKnownToBeNoLess_AreCountedAsByKaplanAndMeier()
    {
        (double Error, bool IsAtLeast)[] weeks =
        [
            (6, false), (6, false), (6, false), (6, true), (7, false), (9, true), (10, false), (10, true), (11, true), (13, false), (16, false), (17, true), (19, true), (20, true), (22, false),
            (23, false), (25, true), (32, true), (32, true), (34, true), (35, true),
        ];
        HeldOutError[] errors = [.. weeks.Select((w, i) => new HeldOutError($"U{i}", 1, w.Error, w.IsAtLeast))];

        // By what must lie inside each tail: the last error at or above which so much lies, the median, and the first with so much at or below.
        Assert.Equal((7, 23, double.PositiveInfinity), Band(0.84));
        Assert.Equal((10, 23, double.PositiveInfinity), Band(0.80));
        Assert.Equal((13, 23, double.PositiveInfinity), Band(0.75));
        Assert.Equal((16, 23, double.PositiveInfinity), Band(0.65));
        Assert.Equal((22, 23, double.PositiveInfinity), Band(0.60));
        Assert.Equal((22, 23, 23), Band(0.54));

        (double, double, double) Band(double inTail) => new HeldOutErrors(errors, Level(inTail)).Band(1);

        static double Level(double inTail) => (2 * inTail / (1 + (1 / 21.0))) - 1;
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
