using System.Text.Json;
using Vanehour.Models.Analysis;
using Vanehour.Models.Expectations;
using Vanehour.Models.Indicators;
using Vanehour.Models.OilUse;
using Vanehour.Models.Results;
using Vanehour.Models.TemperatureRise;
using Vanehour.Models.Tests.Synthetic;
using Xunit.Abstractions;

namespace Vanehour.Models.Tests.Expectations;

public sealed class FleetExpectationTests(ITestOutputHelper output)
{
    private const int LeakFrom = 90;
    private static readonly ExpectationOptions Options = new();
    private static readonly IndicatorDefinition Oil = OilUseIndicator.Define(Options.Shift);

    // Curved oil use, eight trucks, the sixth leaks from a day on. Learned once.
    private static readonly Lazy<(FleetData Data, FleetExpectationResult Result)> Curved = new(() =>
    {
        var data = MadeFleets.Of(8, 130, change: t => t.Id == "T6" ? t with { OilFault = day => day < LeakFrom ? 1 : 1.5 } : t).With(MadeFleets.Curved);
        return (data, Learn(data, Oil));
    });

    [Fact]
    public void StraightTruth_KeepsLeastSquares_AndItsJudgementsExactly()
    {
        var data = MadeFleets.Of(8, 100).Data();
        foreach (var definition in new[] { Oil, TemperatureRiseIndicator.Define(Options.Shift) })
        {
            var result = Learn(data, definition);
            Show(result.Choice);
            Assert.Equal((ChoiceStatus.Compared, CandidateKind.LeastSquares), (result.Choice.Status, result.Choice.Chosen));
            Assert.Equal(Enum.GetValues<CandidateKind>(), result.Choice.Scores.Select(s => s.Kind));
            Assert.Equal(8, result.Choice.Trucks);

            var alone = new WithinPumpExpectation(Options).Learn(definition, "RV-A", data.Pumps);
            Assert.Equal(alone.Pumps.SelectMany(p => p.Judged), result.Models[0].Pumps.SelectMany(p => p.Judged));
            Assert.Equal(alone.Model.Coefficients.AsEnumerable(), result.Models[0].Model.Coefficients.AsEnumerable());
        }
    }

    [Fact]
    public void CurvedTruth_ChoosesTrees_AndTheyJudge()
    {
        var (data, result) = Curved.Value;
        Show(result.Choice);
        Assert.Equal(CandidateKind.FastTree, result.Choice.Chosen);
        Assert.StartsWith("FastTree", result.Models[0].Model.Method, StringComparison.Ordinal);

        // The expectation follows the bend, for a truck that the trees have not seen; the line's stays flat.
        var pump = result.Models[0].Pumps[1];
        var line = new WithinPumpExpectation(Options).Learn(Oil, "RV-A", data.Pumps).Pumps[1];
        var bend = data.Pumps[1].Runs.ToDictionary(r => r.Start, MadeFleets.Bend);
        Assert.True(Slope(pump.Judged, bend) > 0.7, $"{Slope(pump.Judged, bend):F2}");
        Assert.True(Math.Abs(Slope(line.Judged, bend)) < 0.2, $"{Slope(line.Judged, bend):F2}");
        Assert.True(Sd(pump.Judged) < 0.8 * Sd(line.Judged), $"{Sd(pump.Judged):F4} {Sd(line.Judged):F4}");
        Assert.Equal(data.Pumps.Select(p => p.Name), result.Models[0].Pumps.Select(p => p.Pump.Name));
    }

    [Fact]
    public void CurvedTruth_FlagsTheLeakAlone_EachPumpAtItsOwnLevel()
    {
        foreach (var pump in Curved.Value.Result.Models[0].Pumps)
        {
            var states = ShiftTracker.Track(pump.Judged, pump.Rho, pump.Definition.MattersFrom, Options.Shift);
            if (pump.Pump.Truck.Id == "T6")
            {
                Assert.InRange((states.First(s => s.Strength >= 1).Run.Start - SyntheticFleet.Begin).TotalDays, LeakFrom, LeakFrom + 4);
                Assert.True(states[^1].Strength >= 1);
                Assert.InRange(pump.Lenses!.AgainstOwnPast.Deviation, 0.15, 0.4);
            }
            else
            {
                Assert.DoesNotContain(states, s => Math.Abs(s.Strength) >= 1);
                Assert.InRange(pump.Judged.Average(r => r.Deviation), -0.02, 0.02);
            }
        }
    }

    [Fact]
    public void CurvedTruth_SavesWhatWasMeasured_AndTheBandsHoldTheHealthyRuns()
    {
        var band = Assert.Single(Curved.Value.Result.Choice.Bands);
        Assert.Equal(8, band.CalibrationTrucks);
        Assert.NotNull(band.HalfWidthSd);

        // Three standard errors over trucks.
        Assert.InRange(band.HoldOutCoverage!.Value, Options.Level - (3 * band.HoldOutCoverageSe!.Value), Options.Level + (3 * band.HoldOutCoverageSe.Value));
        var points = Curved.Value.Result.Models[0].Pumps.Where(p => p.Pump.Truck.Id != "T6").SelectMany(p => p.Points).ToList();
        var inside = points.Count(p => p.Seen >= p.ExpectedLow && p.Seen <= p.ExpectedHigh) / (double)points.Count;
        output.WriteLine($"{inside:P2} of {points.Count}");
        Assert.InRange(inside, Options.Level - 0.015, Options.Level + 0.03);
    }

    [Fact]
    public void HeavyTails_TheBandIsSetByTheRunsAndNotByTheT()
    {
        // One run in eight is three times as noisy: the t interval at 95 % would hold fewer.
        var random = new Random(8);
        var data = MadeFleets.Of(8, 130).With(r => r with { OilUsedL = r.OilUsedL + (random.Next(8) == 0 ? 0.1 * r.HoursH * ((2 * random.NextDouble()) - 1) / Math.Sqrt(r.HoursH) : 0) });
        var result = Learn(data, Oil);
        var line = new WithinPumpExpectation(Options).Learn(Oil, "RV-A", data.Pumps);
        var (own, t) = (Inside(result.Models[0]), Inside(line));
        output.WriteLine($"conformal {own:P2}, t {t:P2}");
        Assert.InRange(own, Options.Level - 0.012, Options.Level + 0.02);
        Assert.True(Math.Abs(own - Options.Level) < Math.Abs(t - Options.Level));

        static double Inside(ExpectationResult r)
        {
            var points = r.Pumps.SelectMany(p => p.Points).ToList();
            return points.Count(p => p.Seen >= p.ExpectedLow && p.Seen <= p.ExpectedHigh) / (double)points.Count;
        }
    }

    [Fact]
    public void ConditionsThatSayNothing_LeaveThePumpModelMean()
    {
        var random = new Random(4);
        var data = MadeFleets.Of(8, 100).With(r => r with { OilUsedL = r.HoursH * (0.5 + (0.03 * ((2 * random.NextDouble()) - 1) / Math.Sqrt(r.HoursH))) });
        var result = Learn(data, Oil);
        Show(result.Choice);
        Assert.Equal(CandidateKind.PumpModelMean, result.Choice.Chosen);
        Assert.Equal("each pump's own level", result.Models[0].Model.Method);
        Assert.All(result.Models[0].Pumps, p => Assert.All(p.Judged, r => Assert.InRange(r.Expected, 0.48, 0.52)));
    }

    [Theory]
    [InlineData(5, 100, true, ChoiceStatus.TooFewTrucks)]
    [InlineData(8, 14, true, ChoiceStatus.TooFewRuns)]
    [InlineData(8, 60, false, ChoiceStatus.SwitchedOff)]
    public void WithoutAComparison_LeastSquaresAndTheTIntervalStand_AndItSaysSo(int trucks, int days, bool enabled, ChoiceStatus status)
    {
        var data = MadeFleets.Of(trucks, days).With(MadeFleets.Curved);
        var result = Learn(data, Oil, new ChoiceOptions { Enabled = enabled });
        Assert.Equal((status, CandidateKind.LeastSquares), (result.Choice.Status, result.Choice.Chosen));
        Assert.Empty(result.Choice.Scores);
        Assert.Contains("least squares", result.Choice.Reason, StringComparison.Ordinal);
        Assert.All(result.Choice.Bands, b => Assert.Null(b.HalfWidthSd));
        var alone = new WithinPumpExpectation(Options).Learn(Oil, "RV-A", data.Pumps);
        Assert.Equal(alone.Pumps.SelectMany(p => p.Points), result.Models[0].Pumps.SelectMany(p => p.Points));
    }

    [Fact]
    public void TheAnalysis_JudgesByTheChosen_AndKeepsTheChoice()
    {
        var data = MadeFleets.Of(8, 100).With(MadeFleets.Curved);
        var options = new AnalysisOptions();
        var snapshot = new AnalysisCore(options).Run(data, [], null, CancellationToken.None).Snapshot;
        var again = new AnalysisCore(options).Run(data, [], null, CancellationToken.None).Snapshot;

        Assert.Equal([Indicator.OilUse, Indicator.TemperatureRise, Indicator.TemperatureHunting], snapshot.Choices.Select(c => c.Indicator));
        Assert.Equal([CandidateKind.FastTree, CandidateKind.LeastSquares, CandidateKind.LeastSquares], snapshot.Choices.Select(c => c.Chosen));
        Assert.Contains(snapshot.Models, m => m.Name == "OilUse" && m.Method.StartsWith("FastTree", StringComparison.Ordinal));
        var off = new AnalysisCore(options with { Choice = new ChoiceOptions { Enabled = false } }).Run(data, [], null, CancellationToken.None).Snapshot;
        Assert.NotEqual(off.Series[0].Points[^1].Expected, snapshot.Series[0].Points[^1].Expected);
        Assert.NotNull(snapshot.Series[0].Lenses!.AgainstPeers);

        // Trees are seeded and run on one thread: the same again, bit by bit.
        Assert.Equal(snapshot.Series.SelectMany(s => s.Points), again.Series.SelectMany(s => s.Points));
        Assert.Empty(snapshot.Findings);

        var stores = new MemoryStores(MadeFleets.Of(8, 60));
        var made = new FleetAnalysis(stores, stores, stores, stores, options).Analyse(SyntheticFleet.Begin.AddDays(60), null, CancellationToken.None);
        var read = new AnalysisReader(stores, stores).Latest()!;
        Assert.Equal(Json(made), Json(read));
        Assert.Equal([ChoiceStatus.Compared, ChoiceStatus.Compared, ChoiceStatus.TooFewTrucks], read.Choices.Select(c => c.Status));

        static string Json(AnalysisSnapshot s) => JsonSerializer.Serialize(s, ModelsJson.Default.AnalysisSnapshot);
    }

    private static FleetExpectationResult Learn(FleetData data, IndicatorDefinition definition, ChoiceOptions? options = null) =>
        new FleetExpectation(new WithinPumpExpectation(Options), Options, options ?? new ChoiceOptions(), 1).Learn(definition, data.Pumps, null, CancellationToken.None);

    private void Show(ModelChoice choice)
    {
        output.WriteLine($"{choice.Indicator}: {choice.Chosen}. {choice.Reason}");
        foreach (var s in choice.Scores)
        {
            output.WriteLine($"{s.Kind} {s.MeanAbsoluteError:F4} ({s.MeanAbsoluteErrorSe:F4}) rmse {s.RootMeanSquareError:F4} peers {s.AgainstPeersError:F4} behind {s.BehindBest:F5} ({s.BehindBestSe:F5})");
        }

        foreach (var b in choice.Bands)
        {
            output.WriteLine($"{b.PumpModel} {b.HalfWidthSd:F3} sd of {b.CalibrationRuns} runs, {b.HoldOutCoverage:P1} ({b.HoldOutCoverageSe:P1})");
        }
    }

    // Of the expectation on the bend of its run.
    private static double Slope(IReadOnlyList<JudgedRun> judged, Dictionary<DateTimeOffset, double> bend)
    {
        var mean = judged.Average(r => bend[r.Start]);
        return judged.Sum(r => (bend[r.Start] - mean) * r.Expected) / judged.Sum(r => (bend[r.Start] - mean) * (bend[r.Start] - mean));
    }

    private static double Sd(IReadOnlyList<JudgedRun> judged) => Math.Sqrt(judged.Average(r => r.Deviation * r.Deviation));
}
