using System.Text.Json;
using Vanehour.Fleet;
using Vanehour.Models.Analysis;
using Vanehour.Models.Findings;
using Vanehour.Models.Indicators;
using Vanehour.Models.Results;
using Vanehour.Models.Tests.Synthetic;

namespace Vanehour.Models.Tests.Analysis;

public sealed class FleetAnalysisTests
{
    private const int LeakFrom = 80;
    private const int LeakTo = 120;

    [Fact]
    public void Analyse_ThenRead_GivesTheSameBack()
    {
        var stores = new MemoryStores(Leaky());
        var made = Analyse(stores, 100);
        var read = Reader(stores).Latest()!;

        Assert.Equal(JsonSerializer.Serialize(made, ModelsJson.Default.AnalysisSnapshot), JsonSerializer.Serialize(read, ModelsJson.Default.AnalysisSnapshot));
        Assert.Equal(4, read.Wear.Length);
        Assert.Equal(8, read.Series.Length);
        Assert.Equal(["T1", "T1", "T2", "T2", "T3", "T3", "T4", "T4"], read.Series.Select(s => s.Truck));
        Assert.Equal([Indicator.OilUse, Indicator.TemperatureRise], read.Series.Take(2).Select(s => s.Indicator));
        Assert.Equal(4, Reader(stores).LatestHeader()!.Pumps);
    }

    [Fact]
    public void Latest_WithoutAnalysis_IsNull()
    {
        Assert.Null(Reader(new MemoryStores(Leaky())).Latest());
        Assert.Null(Reader(new MemoryStores(Leaky())).LatestHeader());
    }

    [Fact]
    public void Analyse_AFindingThroughItsLife_KeepsItsId()
    {
        var stores = new MemoryStores(Leaky());
        var book = new FindingBook(stores);
        Assert.Empty(Analyse(stores, 75).Findings);

        var first = Assert.Single(Analyse(stores, 90).Findings);
        Assert.Equal(FindingStatus.Open, first.Status);
        Assert.Equal(FindingStatus.Acknowledged, book.Acknowledge(first.Id, "A")!.Status);

        var second = Assert.Single(Analyse(stores, 105).Findings);
        Assert.Equal(first.Id, second.Id);
        Assert.Equal(first.Since, second.Since);
        Assert.Equal(FindingStatus.Acknowledged, second.Status);

        Assert.Empty(Analyse(stores, 150).Findings);
        var closed = Assert.Single(book.All());
        Assert.Equal(first.Id, closed.Id);
        Assert.Equal(FindingStatus.Closed, closed.Status);
        Assert.Equal(SyntheticFleet.Begin.AddDays(150), closed.Closed);
    }

    [Fact]
    public void Analyse_ClosedByAPersonButNotMended_OpensAnother()
    {
        var stores = new MemoryStores(Leaky());
        var book = new FindingBook(stores);
        var first = Assert.Single(Analyse(stores, 90).Findings);
        book.Close(first.Id, new Verdict(Cause.OilLeak, "A", null), SyntheticFleet.Begin.AddDays(90));

        // At once there is no data that could raise it again; after some runs there is.
        Assert.Empty(Analyse(stores, 90).Findings);
        var second = Assert.Single(Analyse(stores, 96).Findings);
        Assert.NotEqual(first.Id, second.Id);
        Assert.True(second.Since >= SyntheticFleet.Begin.AddDays(90));
        Assert.Equal(Cause.OilLeak, book.All().Single(f => f.Id == first.Id).CauseFound);
    }

    [Fact]
    public void SaveUnlessMarked_AMarkMadeMeanwhile_IsNotLost()
    {
        var stores = new MemoryStores(Leaky());
        var book = new FindingBook(stores);
        var finding = Assert.Single(Analyse(stores, 90).Findings);
        var before = book.All();
        book.Close(finding.Id, new Verdict(Cause.OilFeedHigh, "A", null), SyntheticFleet.Begin.AddDays(91));
        book.SaveUnlessMarked([finding], before);

        var kept = Assert.Single(book.All());
        Assert.Equal(FindingStatus.Closed, kept.Status);
        Assert.Equal(Cause.OilFeedHigh, kept.CauseFound);
        Assert.Null(book.Acknowledge("unknown", "A"));
    }

    [Fact]
    public void SaveUnlessMarked_WhatTheWatchDidMeanwhile_IsNeitherLostNorDoubled()
    {
        var stores = new MemoryStores(Leaky());
        var book = new FindingBook(stores);
        var finding = Assert.Single(Analyse(stores, 90).Findings);
        var before = book.All();
        book.Save([finding with { Urgency = Urgency.Stop }, finding with { Id = "watch", Kind = FindingKind.RunningHot }]);
        book.SaveUnlessMarked([finding, finding with { Id = "analysis", Kind = FindingKind.RunningHot }, finding with { Id = "other", Kind = FindingKind.OilUseLow }], before);

        Assert.Equal(Urgency.Stop, book.All().Single(f => f.Id == finding.Id).Urgency);
        Assert.Equal(["other", "watch"], book.All().Where(f => f.Id != finding.Id).Select(f => f.Id).Order());
    }

    [Fact]
    public void Analyse_AsOfThePast_LeavesFindingsAndTheLatestAlone()
    {
        var stores = new MemoryStores(Leaky());
        var latest = Analyse(stores, 100);
        var past = Analyse(stores, 75);

        Assert.Empty(past.Findings);
        Assert.Single(Reader(stores).Latest()!.Findings);
        Assert.Equal(latest.AsOf, Reader(stores).Latest()!.AsOf);
        Assert.All(past.Series.SelectMany(s => s.Points), p => Assert.True(p.At <= past.AsOf));
        Assert.All(past.Wear.SelectMany(w => w.Checks), c => Assert.True(c.At <= past.AsOf));
    }

    [Fact]
    public void Analyse_Twice_ChangesNothing()
    {
        var stores = new MemoryStores(Leaky());
        var first = JsonSerializer.Serialize(Analyse(stores, 100), ModelsJson.Default.AnalysisSnapshot);
        Assert.Equal(first, JsonSerializer.Serialize(Analyse(stores, 100), ModelsJson.Default.AnalysisSnapshot));
        Assert.Equal(first, JsonSerializer.Serialize(Analyse(new MemoryStores(Leaky()), 100), ModelsJson.Default.AnalysisSnapshot));
        Assert.Equal(1, stores.Analyses);
    }

    [Fact]
    public void Analyse_Cancelled_SavesNothing()
    {
        var stores = new MemoryStores(Leaky());
        using var cancelled = new CancellationTokenSource();
        cancelled.Cancel();
        Assert.Throws<OperationCanceledException>(() => Make(stores).Analyse(SyntheticFleet.Begin.AddDays(100), null, cancelled.Token));
        Assert.Null(stores.LatestAsOf());
    }

    [Fact]
    public void Analyse_TellsItsSteps()
    {
        var steps = new Steps();
        Make(new MemoryStores(Leaky())).Analyse(SyntheticFleet.Begin.AddDays(100), steps, CancellationToken.None);
        Assert.Equal(["oil use of RV-A", "temperature rise of RV-A", "restlessness of the pump temperature under vacuum of RV-A", "vane wear", "findings"], steps.Seen.Select(s => s.Step));
        Assert.All(steps.Seen, s => Assert.Equal(5, s.Of));
    }

    [Fact]
    public void Analyse_EmptyFleet_IsFine()
    {
        var stores = new MemoryStores(new SyntheticFleet([], 10, 1));
        var snapshot = Make(stores).Analyse(SyntheticFleet.Begin, null, CancellationToken.None);
        Assert.Empty(snapshot.Wear);
        Assert.Equal(SyntheticFleet.Begin, Reader(stores).Latest()!.AsOf);
    }

    [Fact]
    public void Options_Unsound_AreRefusedWithASentence()
    {
        var options = new AnalysisOptions { KeepAnalyses = 0, Expectation = new() { Level = 1.5 }, Wear = new() { Draws = 1 }, Findings = new() { FadingRateRatio = 0.5 } };
        Assert.Equal(4, options.Problems().Count);
        Assert.Empty(new AnalysisOptions().Problems());
        Assert.Throws<ArgumentException>(() => new AnalysisCore(options));
        Assert.All(
            new AnalysisOptions[]
            {
                new() { Expectation = new() { Level = double.NaN } },
                new() { Expectation = new() { Shift = new() { Lambda = 0 } } },
                new() { Wear = new() { HorizonH = double.NaN } },
                new() { Findings = new() { ReliefKPa = -1 } },
            },
            o => Assert.NotEmpty(o.Problems()));
    }

    [Fact]
    public void Analyse_HealthyHalfYearOfTwelveTrucks_ForecastsEachAndFindsNothing()
    {
        var fleet = new SyntheticFleet([.. Enumerable.Range(1, 12).Select(i => new SyntheticTruck { Id = $"T{i:D2}", OilFactor = 0.85 + (0.03 * i) })], 182, 1);
        var snapshot = Make(new MemoryStores(fleet)).Analyse(fleet.End, null, CancellationToken.None);
        Assert.Equal(12 * 130 * 6, fleet.Trucks.Sum(t => fleet.RunsOf(t.Id).Count));
        Assert.Equal(12, snapshot.Wear.Length);
        Assert.Empty(snapshot.Findings);
    }

    private static SyntheticFleet Leaky() => new(
        [
            .. Enumerable.Range(1, 4).Select(i => new SyntheticTruck
            {
                Id = $"T{i}",
                OilFactor = 0.9 + (0.05 * i),
                OilFault = day => i == 3 && day is >= LeakFrom and < LeakTo ? 1.4 : 1,
            }),
        ],
        160,
        1);

    private static FleetAnalysis Make(MemoryStores stores) => new(stores, stores, stores, stores, new AnalysisOptions());

    private static AnalysisReader Reader(MemoryStores stores) => new(stores, stores);

    private static AnalysisSnapshot Analyse(MemoryStores stores, int day) => Make(stores).Analyse(SyntheticFleet.Begin.AddDays(day), null, CancellationToken.None);

    private sealed class Steps : IProgress<AnalysisProgress>
    {
        public List<AnalysisProgress> Seen { get; } = [];

        public void Report(AnalysisProgress value) => Seen.Add(value);
    }
}
