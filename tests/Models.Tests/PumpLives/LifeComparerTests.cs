using MathNet.Numerics.Distributions;
using Vanehour.Models.PumpLives;

namespace Vanehour.Models.Tests.PumpLives;

public sealed class LifeComparerTests
{
    private const double Shape = 3;

    [Fact]
    public void Holm_WorkedByHand()
    {
        // 4 x 0.01, 3 x 0.02, 2 x 0.03, and never below the one before; the one without a p takes no part.
        Assert.Equal([0.06, null, 0.04, 0.06, 0.9], LifeComparer.Holm([0.03, null, 0.01, 0.02, 0.9]).Select(p => p is { } v ? Math.Round(v, 12) : (double?)null));
        Assert.Equal([1.0, 1.0], LifeComparer.Holm([0.7, 0.8]));
        Assert.Empty(LifeComparer.Holm([]));
    }

    [Fact]
    public void EqualModels_AreCalledDifferentAsOftenAsSaid()
    {
        // Three models, all alike: any pair called different is a mistake. 400 fleets: 20 expected at most, standard deviation 4.4.
        var random = new Random(21);
        var mistakes = Enumerable.Range(0, 400).Count(_ => Compare(random, (30, 1000), (30, 1000), (30, 1000)).Pairs.Any(p => p.Verdict == PairVerdict.Differs));
        Assert.InRange(mistakes, 0, 33);
    }

    [Fact]
    public void LivesThatDifferByAThird_AreFoundWithTheChanceSaid_WhenAsManyFailedAsItTakes()
    {
        // As many lives as it takes, all run to failure; 300 fleets, 240 expected, standard deviation 6.9. Schoenfeld's formula is an approximation, hence two more.
        var needed = Compare(new Random(1), (200, 1000), (200, 1000)).Pairs[0].FailuresNeeded!.Value;
        Assert.InRange(needed, 30, 60);
        var each = (needed + 1) / 2;
        var random = new Random(22);
        var found = Enumerable.Range(0, 300).Count(_ => Compare(random, (each, 1000), (each, 4000.0 / 3)).Pairs[0].Verdict == PairVerdict.Differs);
        Assert.InRange(found, 212, 275);
    }

    [Fact]
    public void Verdicts_AreSaidInWords()
    {
        var random = new Random(23);
        var differs = Compare(random, (60, 1000), (60, 2000)).Pairs[0];
        Assert.Equal(PairVerdict.Differs, differs.Verdict);
        Assert.StartsWith("M1 and M2 differ: median life ", differs.Sentence, StringComparison.Ordinal);

        var alike = Compare(random, (60, 1000), (60, 1000)).Pairs[0];
        Assert.Equal(PairVerdict.NoEvidence, alike.Verdict);
        Assert.Contains("no evidence of a difference", alike.Sentence, StringComparison.Ordinal);

        var few = Compare(random, (4, 1000), (4, 1000)).Pairs[0];
        Assert.Equal(PairVerdict.TooFewLives, few.Verdict);
        Assert.True(few.FailuresNeeded > 8 && few.LivesNeeded >= few.FailuresNeeded);
        Assert.Contains("too few lives to say, with 8 failures; to see lives that differ by a factor of 1.33 it takes about ", few.Sentence, StringComparison.Ordinal);

        var none = new LifeComparer(new LifeOptions()).Of(new LifeTable([Life("M1", 500, false), Life("M2", 600, false)], []));
        Assert.Equal((PairVerdict.TooFewLives, null, null), (none.Pairs[0].Verdict, none.Pairs[0].PAdjusted, none.Pairs[0].FailuresNeeded));
        Assert.Contains("cannot be said before more have failed", none.Pairs[0].Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void OneFailure_IsNoDifference()
    {
        // Chi-square (1 - 1/6)^2/(5/36) = 5 would give p 0.025.
        var comparison = new LifeComparer(new LifeOptions()).Of(new LifeTable([Life("M1", 100, true), .. Enumerable.Range(0, 5).Select(i => Life("M2", 500 + i, false))], []));
        Assert.Null(comparison.LogRank);
        var pair = Assert.Single(comparison.Pairs);
        Assert.Equal((PairVerdict.TooFewLives, null), (pair.Verdict, pair.PAdjusted));
        Assert.Contains("too few lives to say, with 1 failure;", pair.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void OneModel_HasNothingBesideIt()
    {
        var one = Compare(new Random(1), (10, 1000));
        Assert.Null(one.LogRank);
        Assert.Empty(one.Pairs);
        Assert.Single(one.Models);
        Assert.Empty(new LifeComparer(new LifeOptions()).Of(new LifeTable([], [])).Models);
    }

    private static LifeComparison Compare(Random random, params (int Count, double ScaleH)[] models) => new LifeComparer(new LifeOptions()).Of(new LifeTable(
        [.. models.SelectMany((m, i) => Enumerable.Range(0, m.Count).Select(_ => Life($"M{i + 1}", Weibull.Sample(random, Shape, m.ScaleH), true)))], []));

    private static PumpLife Life(string model, double hours, bool hasFailed) => new()
    {
        Truck = "T",
        PumpSerial = "P",
        PumpModel = model,
        FittedAt = DateTimeOffset.UnixEpoch,
        Until = DateTimeOffset.UnixEpoch.AddYears(3),
        EntryH = 0,
        ExitH = hours,
        Ending = hasFailed ? LifeEnding.Failed : LifeEnding.Running,
    };
}
