using MathNet.Numerics.Distributions;
using Vanehour.Models.Analysis;
using Vanehour.Models.Comparing;
using Vanehour.Models.PumpLives;
using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Tests.Comparing;

public sealed class WearComparerTests
{
    private static readonly WearComparer Comparer = new(new LifeOptions());

    [Fact]
    public void ThreePumpsOfOneModel_WorkedByHand()
    {
        // Equal errors 0.1, so the mean is plain: 0.4, squares 0.02 over (0.01 + t2) are 2 at t2 = 0; standard error 0.1/sqrt 3, t with 2 degrees of freedom 4.302653.
        var model = Assert.Single(Comparer.Compare(["A"], [Made.Forecast("1", "A", 0.3, 0.1), Made.Forecast("2", "A", 0.4, 0.1), Made.Forecast("3", "A", 0.5, 0.1)], []).Models);
        Assert.Equal(3, model.Pumps);
        Assert.Equal(0.4, model.Value!.Mid!.Value, 9);
        Assert.Equal(0.4 - (4.302653 * 0.1 / Math.Sqrt(3)), model.Value.Low!.Value, 5);
        Assert.Equal(0.4 + (4.302653 * 0.1 / Math.Sqrt(3)), model.Value.High!.Value, 5);
    }

    [Theory]
    [InlineData(6, 6)]
    [InlineData(4, 12)]
    public void EqualModels_AreCalledDifferentAsOftenAsSaid(int a, int b)
    {
        // 1000 fleets, 50 expected at most, standard deviation 6.9.
        var random = new Random(51);
        Assert.InRange(Enumerable.Range(0, 1000).Count(_ => Simulated(random, (a, 0.4), (b, 0.4)).Pairs[0].Verdict == PairVerdict.Differs), 15, 70);
    }

    [Fact]
    public void Limits_HoldTheTruth_AlsoWhereOneModelWearsTwiceAsFast()
    {
        // The spread is a share of the level. 1000 fleets, 950 expected for each, standard deviation 7.
        var random = new Random(52);
        var fleets = Enumerable.Range(0, 1000).Select(_ => Simulated(random, (5, 0.3), (9, 0.6)).Models).ToList();
        Assert.InRange(fleets.Count(f => f[0].Value!.Low <= 0.3 && f[0].Value!.High >= 0.3), 925, 985);
        Assert.InRange(fleets.Count(f => f[1].Value!.Low <= 0.6 && f[1].Value!.High >= 0.6), 925, 985);
    }

    [Fact]
    public void RatesThatDifferByAThird_AreFoundWithTheChanceSaid()
    {
        var random = new Random(53);
        var needed = Enumerable.Range(0, 50).Select(_ => Simulated(random, (12, 0.4), (12, 0.4)).Pairs[0].PumpsNeeded!.Value).Order().ElementAt(25);
        Assert.InRange(needed, 8, 24);
        Assert.InRange(Enumerable.Range(0, 400).Count(_ => Simulated(random, (needed, 0.4), (needed, 0.4 * 4 / 3)).Pairs[0].Verdict == PairVerdict.Differs), 285, 370);
    }

    [Fact]
    public void HeavierVacuum_IsAllowedFor_OnlyWithPumpsEnough()
    {
        // Wear rises by 0.02 a kPa; B works 12 kPa heavier and is no worse.
        var few = Loaded(6);
        Assert.Equal(PairVerdict.Differs, few.Pairs[0].Verdict);
        Assert.Equal("Wear: as it is, not brought to one load: there are too few pumps to learn what the load does.", Assert.Single(few.Remarks));
        var many = Loaded(20);
        Assert.Matches("^Wear: at the fleet's mean vacuum of 5[0-9] kPa and mean speed of (98|99|100) % of rated, by a regression over 40 pumps[.]$", Assert.Single(many.Remarks));
        Assert.NotEqual(PairVerdict.Differs, many.Pairs[0].Verdict);
        Assert.InRange(many.Models[1].Value!.Mid!.Value - many.Models[0].Value!.Mid!.Value, -0.06, 0.06);
    }

    [Fact]
    public void WhatIsNoRate_TakesNoPart()
    {
        var comparison = Comparer.Compare(
            ["A", "B"],
            [
                Made.Forecast("1", "A", null, null), Made.Forecast("2", "A", double.NaN, 0.1), Made.Forecast("3", "A", 0.4, 0), Made.Forecast("4", "A", 0.4, double.NaN),
                Made.Forecast("5", "A", 0.4, 0.1), Made.Forecast("6", "A", 0.5, 0.1), Made.Forecast("7", "C", 9, 0.1),
            ],
            []);
        Assert.Equal([2, 0], comparison.Models.Select(m => m.Pumps));
        Assert.Equal((null, 0.45, null), (comparison.Models[0].Value!.Low, Math.Round(comparison.Models[0].Value!.Mid!.Value, 9), comparison.Models[0].Value!.High));
        Assert.Contains("2 pumps are too few for limits of wear; it takes 3.", comparison.Models[0].Remarks);
        Assert.Null(comparison.Models[1].Value);
        Assert.Equal(PairVerdict.TooFewPumps, comparison.Pairs[0].Verdict);
        Assert.Contains("with 2 and 0", comparison.Pairs[0].Sentence, StringComparison.Ordinal);
        Assert.All(Comparer.Compare(["A", "B"], [], []).Models, m => Assert.Null(m.Value));
    }

    // Rates that differ from pump to pump by a fifth, known to 5 to 15 % of their level.
    private static MeasureComparison Simulated(Random random, params (int Count, double Rate)[] models) => Comparer.Compare(
        [.. models.Select((_, i) => $"M{i}")],
        [.. models.SelectMany((m, i) => Enumerable.Range(0, m.Count).Select(j =>
        {
            var se = m.Rate * (0.05 + (0.1 * random.NextDouble()));
            return Made.Forecast($"{i}-{j}", $"M{i}", Normal.Sample(random, m.Rate, Math.Sqrt(Math.Pow(0.2 * m.Rate, 2) + (se * se))), se);
        }))],
        []);

    private static MeasureComparison Loaded(int each)
    {
        var random = new Random(54);
        var pumps = new List<PumpHistory>();
        var forecasts = new List<WearForecast>();
        foreach (var (model, more) in new[] { ("A", 0.0), ("B", 12.0) })
        {
            foreach (var pump in Made.Pumps(model, Enumerable.Repeat(1.0, each).ToArray(), 55, 7))
            {
                var heavier = more + Normal.Sample(random, 0, 6);
                pumps.Add(Made.Heavier([pump], heavier)[0] with { Runs = [.. pump.Runs.Select(r => r with { VacuumMeanKPa = r.VacuumMeanKPa + heavier, SpeedMeanRpm = r.SpeedMeanRpm + (8 * pumps.Count % 30) })] });
                forecasts.Add(Made.Forecast(pump.Truck.Id, model, 0.4 + (0.02 * heavier) + Normal.Sample(random, 0, 0.03), 0.02) with { PumpSerial = pump.Life.PumpSerial });
            }
        }

        return Comparer.Compare(["A", "B"], forecasts, pumps);
    }
}
