using Vanehour.Fleet.Runs;
using Vanehour.Models.Indicators;
using Vanehour.Models.OilUse;
using Vanehour.Models.Regression;
using Vanehour.Models.TemperatureRise;
using Vanehour.Models.Tests.Synthetic;
using Xunit.Abstractions;

namespace Vanehour.Models.Tests.Indicators;

public sealed class WithinPumpExpectationTests(ITestOutputHelper output)
{
    private static readonly ExpectationOptions Options = new();
    private static readonly double[] Factors = [0.9, 1.0, 1.05, 1.12];

    [Fact]
    public void Learn_HealthyFleet_RecoversTheSlopes()
    {
        var oil = Learn(Fleet(_ => _), OilUseIndicator.Define(Options.Shift));

        Assert.Equal(FitStatus.Converged, oil.Model.Status);
        Slope(oil, "vacuum", 0.004);
        Slope(oil, "speed", 0.0004);
        Slope(oil, "ambient", 0.002);
        var heat = Learn(Fleet(_ => _), TemperatureRiseIndicator.Define(Options.Shift));
        Slope(heat, "vacuum", 0.6);
        Slope(heat, "speed", 0.03);
        Slope(heat, "log of hours", 3);
    }

    [Theory]
    [InlineData(Indicator.OilUse, 0.95)]
    [InlineData(Indicator.OilUse, 0.8)]
    [InlineData(Indicator.TemperatureRise, 0.95)]
    public void Bands_CoverAtTheirLevel_TruckToTruckVariationIncluded(Indicator indicator, double level)
    {
        var options = Options with { Level = level };
        var definition = indicator == Indicator.OilUse ? OilUseIndicator.Define(options.Shift) : TemperatureRiseIndicator.Define(options.Shift);
        int inside = 0, all = 0;
        for (var seed = 1; seed <= 4; seed++)
        {
            var points = new WithinPumpExpectation(options).Learn(definition, "RV-A", Fleet(_ => _, seed).Data().Pumps).Pumps.SelectMany(p => p.Points).ToList();
            inside += points.Count(p => p.Seen >= p.ExpectedLow && p.Seen <= p.ExpectedHigh);
            all += points.Count;
        }

        output.WriteLine($"{indicator} at {level}: {inside / (double)all:P2} of {all}");

        // Runs of a pump share the error of its level, so this is wider than a binomial's limits for independent runs.
        Assert.InRange(inside / (double)all, level - 0.012, level + 0.012);
    }

    [Fact]
    public void Learn_OneOfFourLeaks_FlagsItAlone()
    {
        // From day 80 on truck T3 uses two fifths more.
        var fleet = Fleet((t) => t.Id == "T3" ? t with { OilFault = day => day < 80 ? 1 : 1.4 } : t);
        var result = Learn(fleet, OilUseIndicator.Define(Options.Shift));

        foreach (var pump in result.Pumps)
        {
            var states = States(pump);
            if (pump.Pump.Truck.Id == "T3")
            {
                var first = states.First(s => s.Strength >= 1).Run.Start;
                Assert.InRange((first - SyntheticFleet.Begin).TotalDays, 80, 83);
                Assert.True(states[^1].Strength >= 1);
            }
            else
            {
                Assert.DoesNotContain(states, s => Math.Abs(s.Strength) >= 1);
            }
        }

        // The leak moves neither the slopes nor its own expectation.
        Slope(result, "vacuum", 0.004);
        var last = result.Pumps[2].Points[^1];
        Assert.InRange(last.Seen / last.Expected!.Value, 1.2, 1.6);
        Assert.Contains(result.Model.Warnings, w => w.Contains("T3", StringComparison.Ordinal) && w.Contains("lasting shift", StringComparison.Ordinal));
    }

    [Fact]
    public void Learn_OneOfFiveFaultyFromTheStart_IsJudgedByItsPeers()
    {
        var fleet = Fleet(t => t.Id == "T5" ? t with { OilFactor = 2.2 } : t, trucks: 5);
        var result = Learn(fleet, OilUseIndicator.Define(Options.Shift));

        Assert.True(States(result.Pumps[4])[^1].Strength >= 1);
        Assert.Contains(result.Model.Warnings, w => w.Contains("judged by its peers", StringComparison.Ordinal));
        Assert.All(result.Pumps.Take(4), p => Assert.DoesNotContain(States(p), s => Math.Abs(s.Strength) >= 1));
    }

    [Fact]
    public void Learn_StarvedPump_IsLowWithinThreeRuns()
    {
        var fleet = Fleet(t => t.Id == "T2" ? t with { OilFault = day => day < 91 ? 1 : 0.1 } : t);
        var states = States(Learn(fleet, OilUseIndicator.Define(Options.Shift)).Pumps[1]);
        var after = states.Where(s => s.Run.Start >= SyntheticFleet.Begin.AddDays(91)).ToList();
        Assert.True(after.FindIndex(s => s.Strength <= -1) <= 2);
    }

    [Fact]
    public void Learn_OneWildRun_IsNoShift()
    {
        var fleet = Fleet(_ => _);
        var n = 0;
        var runs = fleet.Data().Pumps.Select(p => p with { Runs = [.. p.Runs.Select(r => n++ == 200 ? r with { OilUsedL = r.OilUsedL * 6 } : r)] }).ToList();
        var result = new WithinPumpExpectation(Options).Learn(OilUseIndicator.Define(Options.Shift), "RV-A", runs);
        Assert.All(result.Pumps, p => Assert.DoesNotContain(States(p), s => Math.Abs(s.Strength) >= 1));
    }

    [Fact]
    public void Learn_HealthyFleet_RaisesNoShift()
    {
        for (var seed = 1; seed <= 5; seed++)
        {
            var fleet = Fleet(_ => _, seed);
            foreach (var definition in new[] { OilUseIndicator.Define(Options.Shift), TemperatureRiseIndicator.Define(Options.Shift) })
            {
                Assert.All(Learn(fleet, definition).Pumps, p => Assert.DoesNotContain(States(p), s => Math.Abs(s.Strength) >= 1));
            }
        }
    }

    [Fact]
    public void Learn_HealthyFleetWithCorrelatedNoise_LearnsTheCorrelationAndRaisesNoShift()
    {
        // Wider noise too, so that it is the statistics that hold, not what matters.
        var options = Options with { Shift = Options.Shift with { OilUseShare = 0.01, TemperatureRiseK = 0.2 } };
        for (var seed = 1; seed <= 5; seed++)
        {
            var pumps = Fleet(t => t with { NoiseRho = 0.4 }, seed).Data().Pumps;
            var result = new WithinPumpExpectation(options).Learn(OilUseIndicator.Define(options.Shift), "RV-A", pumps);
            Assert.InRange(result.Pumps[0].Rho, 0.33, 0.47);
            Assert.All(result.Pumps, p => Assert.DoesNotContain(
                ShiftTracker.Track(p.Judged, p.Rho, p.Definition.MattersFrom, options.Shift), s => Math.Abs(s.Strength) >= 1));
        }
    }

    [Fact]
    public void Learn_OnePumpMeasuredCoarsely_HasABandOfItsOwnAndRaisesNoShift()
    {
        // A reservoir's level, six times as noisy as the other pumps' oil meters: by their noise every other run of it would stand out.
        for (var seed = 1; seed <= 5; seed++)
        {
            var result = Learn(Fleet(t => t.Id == "T2" ? t with { OilNoiseFactor = 6 } : t, seed), OilUseIndicator.Define(Options.Shift));
            Assert.All(result.Pumps, p => Assert.DoesNotContain(States(p), s => Math.Abs(s.Strength) >= 1));
            foreach (var pump in result.Pumps)
            {
                var inside = pump.Points.Count(p => p.Seen >= p.ExpectedLow && p.Seen <= p.ExpectedHigh) / (double)pump.Points.Length;
                Assert.InRange(inside, Options.Level - 0.035, Options.Level + 0.035);
            }

            Slope(result, "vacuum", 0.004);
        }
    }

    [Fact]
    public void Learn_ShortAndThinRuns_AreLeftOutAndCounted()
    {
        var pump = Fleet(_ => _).Data().Pumps[0];
        List<Run> runs = [.. pump.Runs.Take(560).Select((r, i) => (i % 10) switch
        {
            3 => r with { HoursH = 0.05 },
            5 => r with { Quality = r.Quality with { Coverage = 0.3 } },
            7 => r with { OilUsedL = null },
            _ => r,
        })];
        var result = new WithinPumpExpectation(Options).Learn(OilUseIndicator.Define(Options.Shift), "RV-A", [pump with { Runs = runs }]);

        var tenth = runs.Count / 10;
        Assert.Equal(runs.Count - (3 * tenth), result.Pumps[0].Points.Length);
        Assert.Contains(result.Model.Warnings, w => w.StartsWith($"{3 * tenth} runs left out: {tenth} shorter than 0.1 h, {tenth} with less", StringComparison.Ordinal));
    }

    [Fact]
    public void Learn_MissingOrConstantPredictor_IsDroppedWithAWord()
    {
        var pumps = Fleet(t => t with { HasSpeed = false }).Data().Pumps
            .Select(p => p with { Runs = [.. p.Runs.Select(r => r with { AmbientMeanC = 20 })] }).ToList();
        var model = new WithinPumpExpectation(Options).Learn(OilUseIndicator.Define(Options.Shift), "RV-A", pumps).Model;

        Assert.Equal(FitStatus.Converged, model.Status);
        Assert.Contains(model.Warnings, w => w.StartsWith("speed is not used: it is missing", StringComparison.Ordinal));
        Assert.Contains(model.Warnings, w => w.StartsWith("ambient temperature is not used", StringComparison.Ordinal));
        Assert.DoesNotContain(model.Coefficients, c => c.Name.StartsWith("speed", StringComparison.Ordinal));
    }

    [Fact]
    public void Learn_OneTruckWithoutSpeed_IsStillJudged()
    {
        var result = Learn(Fleet(t => t.Id == "T1" ? t with { HasSpeed = false } : t), OilUseIndicator.Define(Options.Shift));
        Assert.All(result.Pumps[0].Points, p => Assert.NotNull(p.Expected));
        Slope(result, "speed", 0.0004);
    }

    [Fact]
    public void Learn_TooFewRuns_ExpectsNothing()
    {
        var result = Learn(new SyntheticFleet([new SyntheticTruck { Id = "T1" }], 3, 1), OilUseIndicator.Define(Options.Shift));
        Assert.Equal(FitStatus.Degenerate, result.Model.Status);
        Assert.All(result.Pumps[0].Points, p => Assert.Null(p.Expected));
        Assert.NotEmpty(result.Pumps[0].Points);
    }

    [Fact]
    public void Learn_YoungPump_IsJudgedByPeersWithAWiderBand_OrNotAtAllWithout()
    {
        var pumps = Fleet(_ => _).Data().Pumps;
        var young = pumps[3] with { Runs = [.. pumps[3].Runs.Take(2)] };
        var withPeers = new WithinPumpExpectation(Options).Learn(OilUseIndicator.Define(Options.Shift), "RV-A", [.. pumps.Take(3), young]);
        var without = new WithinPumpExpectation(Options).Learn(OilUseIndicator.Define(Options.Shift), "RV-A", [.. pumps.Take(2), young]);

        Assert.All(withPeers.Pumps[3].Points, p => Assert.NotNull(p.Expected));
        Assert.All(without.Pumps[2].Points, p => Assert.Null(p.Expected));
        Assert.Contains(without.Model.Warnings, w => w.Contains("too young", StringComparison.Ordinal));
        Assert.True(withPeers.Pumps[3].Judged[0].OffsetSd > 2 * withPeers.Pumps[0].Judged[0].OffsetSd);
    }

    [Fact]
    public void Learn_NaNInARun_CountsAsNotMeasured()
    {
        var pumps = Fleet(_ => _).Data().Pumps
            .Select(p => p with { Runs = [.. p.Runs.Select((r, i) => i == 9 ? r with { OilUsedL = double.NaN } : i == 11 ? r with { VacuumMeanKPa = double.PositiveInfinity } : r)] })
            .ToList();
        var result = new WithinPumpExpectation(Options).Learn(OilUseIndicator.Define(Options.Shift), "RV-A", pumps);
        Assert.Equal(FitStatus.Converged, result.Model.Status);
        Assert.Equal(pumps[0].Runs.Count - 1, result.Pumps[0].Points.Length);
        Assert.All(result.Pumps.SelectMany(p => p.Points), p => Assert.True(double.IsFinite(p.Seen + p.Expected!.Value)));
    }

    [Fact]
    public void Learn_WithoutPumps_IsDegenerate()
    {
        var result = new WithinPumpExpectation(Options).Learn(OilUseIndicator.Define(Options.Shift), "RV-A", []);
        Assert.Equal(FitStatus.Degenerate, result.Model.Status);
        Assert.Empty(result.Pumps);
    }

    private static SyntheticFleet Fleet(Func<SyntheticTruck, SyntheticTruck> change, int seed = 1, int trucks = 4) => new(
        [
            .. Enumerable.Range(0, trucks).Select(i => change(new SyntheticTruck
            {
                Id = $"T{i + 1}",
                OilFactor = Factors[i % Factors.Length],
                WarmerK = 3 * (i - 1.5),
            })),
        ],
        130,
        seed);

    private static ExpectationResult Learn(SyntheticFleet fleet, IndicatorDefinition definition) =>
        new WithinPumpExpectation(Options).Learn(definition, fleet.Model.Model, fleet.Data().Pumps);

    private static IReadOnlyList<ShiftState> States(PumpJudgement pump) =>
        ShiftTracker.Track(pump.Judged, pump.Rho, pump.Definition.MattersFrom, Options.Shift);

    private static void Slope(ExpectationResult result, string name, double truth)
    {
        var coefficient = result.Model.Coefficients.Single(c => c.Name.StartsWith(name, StringComparison.Ordinal));

        // 3.5 standard errors, and a tenth for the pumps' factors, which scale the truth of each pump's slope a little.
        Assert.Equal(truth, coefficient.Estimate, (3.5 * coefficient.StandardError) + (0.1 * truth));
    }
}
