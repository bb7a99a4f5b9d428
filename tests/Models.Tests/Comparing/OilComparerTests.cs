using MathNet.Numerics.Distributions;
using Vanehour.Models.Analysis;
using Vanehour.Models.Comparing;
using Vanehour.Models.Indicators;
using Vanehour.Models.PumpLives;

namespace Vanehour.Models.Tests.Comparing;

public sealed class OilComparerTests
{
    // What the made-up fleet uses at 45 kPa, 1180 rpm and 10 Cel.
    private const double UsualLPerH = 0.5;
    private const double PumpSd = 0.1;

    [Fact]
    public void Levels_AreThoseOfTheFleet_AndADifferenceIsFound()
    {
        var comparison = Compare(Made.Pumps("A", [0.95, 1, 1.05, 1], 1), Made.Pumps("B", [1.9, 2, 2.1, 2], 2));
        Assert.Equal([4, 4], comparison.Models.Select(m => m.Pumps));
        Assert.InRange(comparison.Models[0].Value!.Mid!.Value, 0.96 * UsualLPerH, 1.04 * UsualLPerH);
        Assert.InRange(comparison.Models[1].Value!.Mid!.Value, 1.92 * UsualLPerH, 2.08 * UsualLPerH);
        Assert.True(comparison.Models[1].Value!.Low < comparison.Models[1].Value!.Mid && comparison.Models[1].Value!.Mid < comparison.Models[1].Value!.High);
        var pair = Assert.Single(comparison.Pairs);
        Assert.Equal(("A", "B", PairVerdict.Differs), (pair.A, pair.B, pair.Verdict));
        Assert.StartsWith("A and B differ in oil use: 0.", pair.Sentence, StringComparison.Ordinal);
        Assert.Contains("vacuum 45 kPa", Assert.Single(comparison.Remarks), StringComparison.Ordinal);
    }

    [Fact]
    public void HeavierVacuum_IsNotHeldAgainstAModel()
    {
        // 10 kPa more cost 8 % of oil: as measured the models differ, at one load they do not.
        var light = Made.Pumps("A", [0.99, 1, 1.01, 1, 1, 1], 3);
        var heavy = Made.Heavier(Made.Pumps("B", [0.99, 1, 1.01, 1, 1, 1], 4), 10);
        var seen = heavy.Average(p => p.Runs.Sum(r => r.OilUsedL!.Value) / p.Runs.Sum(r => r.HoursH)) / light.Average(p => p.Runs.Sum(r => r.OilUsedL!.Value) / p.Runs.Sum(r => r.HoursH));
        Assert.InRange(seen, 1.06, 1.10);
        var comparison = Compare(light, heavy);
        Assert.InRange(comparison.Models[1].Value!.Mid!.Value / comparison.Models[0].Value!.Mid!.Value, 0.97, 1.03);
        Assert.NotEqual(PairVerdict.Differs, comparison.Pairs[0].Verdict);
    }

    [Fact]
    public void OneStarvedPump_HardlyMovesItsModel()
    {
        double[] factors = [0.95, 1, 1.05, 0.98, 1.02, 1];
        var healthy = Compare(Made.Pumps("A", factors, 5)).Models[0].Value!;
        var starved = Compare(Made.Pumps("A", [0.2, .. factors[1..]], 5)).Models[0].Value!;
        var later = Compare(Made.Pumps("A", factors, 5, 60, day => day > 25 ? 0.3 : 1)).Models[0].Value!;
        Assert.InRange(starved.Mid!.Value / healthy.Mid!.Value, 0.95, 1.03);
        Assert.InRange(later.Mid!.Value / healthy.Mid.Value, 0.97, 1.03);
        Assert.InRange((starved.High!.Value - starved.Low!.Value) / starved.Mid.Value, 0, 0.25);
    }

    [Fact]
    public void EqualModels_AreCalledDifferentAsOftenAsSaid()
    {
        // Two models of five trucks that differ from truck to truck by a tenth: 300 fleets, 15 expected at most, standard deviation 3.8.
        var random = new Random(41);
        Assert.InRange(Enumerable.Range(0, 300).Count(i => Simulated(random, i, 5, 1).Verdict == PairVerdict.Differs), 2, 25);
    }

    [Fact]
    public void RatesThatDifferByAThird_AreFoundWithTheChanceSaid()
    {
        // As many trucks as it takes where trucks of a model differ by a quarter: 200 fleets, 160 said, standard deviation 5.7; with so few trucks Huber's spread is itself uncertain.
        var random = new Random(42);
        var needed = Enumerable.Range(0, 20).Select(i => Simulated(random, i, 12, 1, 0.25).PumpsNeeded!.Value).Order().ElementAt(10);
        Assert.InRange(needed, 10, 18);
        Assert.InRange(Enumerable.Range(0, 200).Count(i => Simulated(random, i, needed, 4.0 / 3, 0.25).Verdict == PairVerdict.Differs), 140, 190);
    }

    [Fact]
    public void TooFewPumps_AreSaid()
    {
        var comparison = Compare(Made.Pumps("A", [1, 1.1], 6), Made.Pumps("B", [1, 1.1, 0.9], 7));
        var few = comparison.Models[0];
        Assert.Equal((null, null), (few.Value!.Low, few.Value.High));
        Assert.InRange(few.Value.Mid!.Value, 0.45, 0.6);
        Assert.Contains("2 pumps are too few for limits of oil use; it takes 3.", few.Remarks);
        Assert.NotNull(comparison.Models[1].Value!.Low);
        var pair = comparison.Pairs[0];
        Assert.Equal((PairVerdict.TooFewPumps, null), (pair.Verdict, pair.PAdjusted));
        Assert.Contains("too few pumps to say of oil use, with 2 and 3; to see rates that differ by a factor of 1.33 it takes about", pair.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void NoRunsWithOil_IsNull_AndNaNIsNotMeasured()
    {
        var pumps = Made.Pumps("A", [1, 1, 1], 8);
        foreach (var oil in new double?[] { null, double.NaN })
        {
            IReadOnlyList<PumpHistory> without = [.. pumps.Select(p => p with { Runs = [.. p.Runs.Select(r => r with { OilUsedL = oil })] })];
            var model = Assert.Single(new OilComparer(new LifeOptions(), new ExpectationOptions()).Compare(["A"], without).Models);
            Assert.Equal((0, null), (model.Pumps, model.Value));
            Assert.Contains("No pump has enough runs with oil measured.", model.Remarks);
        }

        var none = new OilComparer(new LifeOptions(), new ExpectationOptions()).Compare(["A", "B"], []);
        Assert.Equal(PairVerdict.TooFewPumps, Assert.Single(none.Pairs).Verdict);
        Assert.Contains("cannot be said", none.Pairs[0].Sentence, StringComparison.Ordinal);
        Assert.Empty(new OilComparer(new LifeOptions(), new ExpectationOptions()).Compare([], []).Models);
    }

    [Fact]
    public void RunsOfOneTruck_CountOnce_HoweverManyThereAre()
    {
        // Limits come from how trucks differ: with ten times the runs they stay.
        double[] factors = [0.8, 0.9, 1, 1.1, 1.2];
        var few = Compare(Made.Pumps("A", factors, 9, 28)).Models[0].Value!;
        var many = Compare(Made.Pumps("A", factors, 9, 280)).Models[0].Value!;
        Assert.InRange((many.High!.Value - many.Low!.Value) / (few.High!.Value - few.Low!.Value), 0.8, 1.25);
    }

    private static MeasurePair Simulated(Random random, int seed, int trucks, double ratio, double sd = PumpSd)
    {
        double[] Factors(double usual) => [.. Enumerable.Range(0, trucks).Select(_ => usual * Math.Exp(Normal.Sample(random, 0, sd)))];
        return Compare(Made.Pumps("A", Factors(1), 100 + (2 * seed)), Made.Pumps("B", Factors(ratio), 101 + (2 * seed))).Pairs[0];
    }

    private static MeasureComparison Compare(params IReadOnlyList<PumpHistory>[] models) => new OilComparer(new LifeOptions(), new ExpectationOptions())
        .Compare([.. models.Select(m => m[0].Model.Model)], [.. models.SelectMany(m => m)]);
}
