using System.Collections.Immutable;
using MathNet.Numerics.Distributions;
using Vanehour.Models.Comparing;
using Vanehour.Models.Indicators;
using Vanehour.Models.PumpLives;
using Vanehour.Models.Survival;
using Vanehour.Models.VaneWear;
using Vanehour.Reports.Comparing;

namespace Vanehour.Reports.Tests.Comparing;

/// <summary>Comparisons to be drawn. Names and values are invented.</summary>
public static class ComparisonStories
{
    private static readonly string[] Names = ["Alder 400", "Birch 230", "Cedar 310", "Elm 500", "Hazel 180", "Rowan 260", "Larch 350", "Maple 420", "Willow 150"];

    /// <summary>Every story by name.</summary>
    public static IReadOnlyDictionary<string, Func<ComparisonReportData>> All { get; } = new Dictionary<string, Func<ComparisonReportData>>(StringComparer.Ordinal)
    {
        ["none"] = () => Tell([]),
        ["one"] = () => Tell([(Names[0], 25, 2000)]),
        ["two"] = () => Tell([(Names[0], 25, 2000), (Names[1], 30, 1300)]),
        ["no failures"] = () => Tell([(Names[0], 6, 1e9), (Names[1], 5, 1e9)]),
        ["one failure"] = () => Tell([(Names[0], 1, 100), (Names[1], 5, 1e9)], analysed: false),
        ["four"] = () => Tell([.. Names.Take(4).Select((n, i) => (n, 30, 1200 + (400.0 * i)))]),
        ["six"] = () => Tell([.. Names.Take(6).Select((n, i) => (n, 20 + i, 1500 + (60.0 * i)))]),
        ["nine"] = () => Tell([.. Names.Select((n, i) => (n, 9 + i, 900 * Math.Pow(1.4, i)))]),
        ["long names"] = () => Tell([.. Names.Take(6).Select((n, i) => ($"{n} heavy-duty variable vane with oil cooler and silencer, series {i}", 25, 1000 + (500.0 * i)))]),
        ["hostile"] = () => Tell([("a\u202E\tb\u0301", 20, 1500), (new string('W', 300), 20, 1000)], extremes: true),
        ["unmeasured"] = () => Tell([(Names[0], 25, 2000), (Names[1], 30, 1300)], analysed: false, oil: false),
        ["late"] = () => Tell([(Names[0], 25, 2000), (Names[1], 30, 1300)], lateH: 1100),
    };

    /// <summary>A comparison of models with so many trucks and so long a life each.</summary>
    public static ComparisonReportData Tell(
        IReadOnlyList<(string Name, int Trucks, double ScaleH)> models, bool analysed = true, bool oil = true, bool extremes = false, double lateH = 0)
    {
        ArgumentNullException.ThrowIfNull(models);
        var random = new Random(7);
        var lives = models.SelectMany(m => Enumerable.Range(0, m.Trucks).Select(i => Life(random, m.Name, i, m.ScaleH, lateH))).ToImmutableArray();
        var forecasts = !analysed ? null : models.SelectMany((m, i) => Enumerable.Range(0, Math.Max(1, m.Trucks / 4)).Select(j => Forecast($"{m.Name}-{j}", m.Name, extremes ? 1e7 : Normal.Sample(random, 600 / Math.Min(m.ScaleH, 3000), 0.05)))).ToList();
        var options = new LifeOptions { PlannedRebuildCost = extremes ? 1e6 : 1 };
        var comparison = new ModelComparer(options, new ExpectationOptions()).Compare(new LifeTable(lives, []), [], forecasts);
        return new ComparisonReportData(
            oil ? comparison with { Oil = Oil(comparison, random, extremes) } : comparison,
            new DateTimeOffset(2026, 11, 25, 6, 0, 0, TimeSpan.Zero),
            options);
    }

    private static PumpLife Life(Random random, string model, int number, double scaleH, double lateH)
    {
        var (life, watched) = (Weibull.Sample(random, 3.5, scaleH), 200 + (random.NextDouble() * 1.2 * Math.Min(scaleH, 3000)));
        var entry = number % 3 == 0 && lateH < Math.Min(life, watched) ? lateH : 0;
        return new PumpLife
        {
            Truck = $"{model}-{number}",
            PumpSerial = $"P{number}",
            PumpModel = model,
            FittedAt = DateTimeOffset.UnixEpoch,
            Until = DateTimeOffset.UnixEpoch.AddYears(3),
            EntryH = entry,
            ExitH = Math.Min(life, watched),
            Ending = life <= watched ? LifeEnding.Failed : number % 2 == 0 ? LifeEnding.Running : LifeEnding.Rebuilt,
        };
    }

    private static MeasureComparison Oil(ModelComparison comparison, Random random, bool extremes)
    {
        var models = comparison.Lives.Models.Select((m, i) =>
        {
            var mid = extremes ? 1e9 : 0.3 + (0.05 * i) + (0.02 * random.NextDouble());
            return new ModelMeasure(m.PumpModel, 5 - (i % 4), i % 4 == 3 ? new EstimateWithLimits(null, mid, null) : new EstimateWithLimits(mid * 0.93, mid, mid * (i == 2 ? 9 : 1.08)), []);
        });
        var verdicts = new[] { PairVerdict.Differs, PairVerdict.NoEvidence, PairVerdict.TooFewPumps };
        return comparison.Oil with
        {
            Models = [.. models],
            Pairs = [.. comparison.Oil.Pairs.Select((p, i) => p with { Verdict = verdicts[i % 3], PAdjusted = i % 3 == 0 ? Math.Pow(10, -2 - (i % 4)) : 0.3, PumpsNeeded = 6 + i })],
        };
    }

    private static WearForecast Forecast(string truck, string model, double rate) => new()
    {
        Truck = truck,
        PumpSerial = "P",
        PumpModel = model,
        AsOf = DateTimeOffset.UnixEpoch,
        HoursSinceFitting = 500,
        Observations = 40,
        Status = ForecastStatus.Forecast,
        FlowKeptLimit = 0.7,
        WearPer1000H = rate,
        WearPer1000HSe = 0.03,
        Checks = [],
        Fan = [],
        Remarks = [],
    };
}
