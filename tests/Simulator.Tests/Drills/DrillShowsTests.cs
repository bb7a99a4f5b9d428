using Vanehour.Models.Analysis;
using Vanehour.Models.Findings;
using Vanehour.Scoring;
using Vanehour.Scoring.Drills;

namespace Vanehour.Simulator.Tests.Drills;

/// <summary>Every case's fleet shows what the case says: each is simulated and analysed once, at seed 1.</summary>
[Collection(nameof(Studies))]
public sealed class DrillShowsTests(DrillShowsTests.Shown shown) : IClassFixture<DrillShowsTests.Shown>
{
    public static TheoryData<string> Cases => [.. DrillCases.Default.Cases.Select(c => c.Id)];

    [Theory]
    [MemberData(nameof(Cases))]
    public void TheAnalysisFindsIt_OrTheCaseSaysThatItDoesNot(string id)
    {
        var (@case, truth) = (DrillCases.Default.Find(id)!, shown.Truths[id]);
        var own = truth.Findings.Where(f => f.Truck == truth.Truck).ToList();
        var named = truth.Cause is { } cause && own.Any(f => f.Causes.Take(3).Contains(cause));
        Assert.True(@case.Found == named, $"{id} on {truth.Truck}: {string.Join("; ", own.Select(f => $"{f.Kind} {string.Join(' ', f.Causes.Take(3))}"))}");
        if (truth.Cause is null)
        {
            Assert.Empty(truth.Findings);
        }
    }

    [Theory]
    [InlineData("oil-line", "oil use", -30)]
    [InlineData("over-fed", "oil use", 30)]
    [InlineData("oil-leak", "oil use", 30)]
    [InlineData("carry-over", "restlessness of the pump temperature", 20)]
    [InlineData("inlet-filter", "time from 5 to 12 inHg in start-up checks", 10)]
    [InlineData("hose-lining", "time from 5 to 12 inHg in start-up checks", 10)]
    [InlineData("tank-leak", "leak ratio in start-up checks", 15)]
    [InlineData("relief-low", "vacuum at which the relief valve lifts", -7)]
    [InlineData("relief-stuck", "vacuum that start-up checks end at", 10)]
    [InlineData("float-early", "mean vacuum at work", 3)]
    [InlineData("worn-vanes", "time from 5 to 12 inHg in start-up checks", 3)]
    [InlineData("overspeed", "pump speed under load", 10)]
    [InlineData("coupling", "pump speed under load", -10)]
    [InlineData("carboned", "temperature rise over ambient", 20)]
    [InlineData("gauge-low", "mean vacuum at work", -8)]
    [InlineData("thin-oil", "temperature rise over ambient", 10)]
    public void WhatTheTellTalesSpeakOf_MovesOnThisTruck_MoreThanOnTheOthers(string id, string indicator, double byPercent)
    {
        var measure = Assert.Single(shown.Truths[id].Measures, m => m.Name == indicator);
        var beyond = (100 * (measure.After - measure.Before) / measure.Before) - measure.OthersChangePercent!.Value;
        Assert.True(byPercent < 0 ? beyond <= byPercent : beyond >= byPercent, $"{id}: {indicator} {measure}");
    }

    [Fact]
    public void WhereNothingIsWrong_NothingMoves() => Assert.All(
        shown.Truths["nothing-wrong"].Measures.Where(m => m.Name is "oil use" or "temperature rise over ambient" or "pump speed under load" or "vacuum at which the relief valve lifts" or "time from 5 to 12 inHg in start-up checks"),
        m => Assert.InRange((100 * (m.After - m.Before) / m.Before) - m.OthersChangePercent!.Value, -5, 5));

    [Fact]
    public void AStuckGauge_LeavesNoStartUpCheck() =>
        Assert.DoesNotContain(shown.Truths["gauge-stuck"].Measures, m => m.Name.Contains("start-up", StringComparison.Ordinal));

    /// <summary>The truths of all cases.</summary>
    public sealed class Shown
    {
        public IReadOnlyDictionary<string, DrillTruth> Truths { get; } = DrillCases.Default.Cases.AsParallel().Select(TruthOf).ToDictionary(t => t.Case, StringComparer.Ordinal);

        private static DrillTruth TruthOf(DrillCase @case)
        {
            var drill = DrillFleet.Of(@case, 1);
            var runs = drill.Fleet.Trucks.ToDictionary(t => t.Id, t => SimulatedRuns.Of(drill.Fleet, t), StringComparer.Ordinal);
            var fleet = new ReplayFleet(
                drill.Fleet.PumpModels,
                drill.Fleet.Trucks,
                drill.Fleet.ServiceRecords,
                t => runs[t].Runs,
                runs.ToDictionary(r => r.Key, r => (IReadOnlyList<DateTimeOffset>)[.. r.Value.Heard.Select(s => s.At)], StringComparer.Ordinal));
            var found = new AnalysisCore(new AnalysisOptions()).Run(fleet.AsOf(drill.Fleet.End), [], null, CancellationToken.None).Snapshot.Findings;
            return DrillTruth.Of(drill, runs.ToDictionary(r => r.Key, r => r.Value.Runs, StringComparer.Ordinal), found.Where(f => f.Status != FindingStatus.Closed));
        }
    }
}
