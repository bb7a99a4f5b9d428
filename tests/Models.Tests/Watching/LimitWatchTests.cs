using Microsoft.Extensions.Time.Testing;
using Vanehour.Fleet;
using Vanehour.Models.Analysis;
using Vanehour.Models.Findings;
using Vanehour.Models.Results;
using Vanehour.Models.Tests.Runs;
using Vanehour.Models.Tests.Synthetic;
using Vanehour.Models.Watching;

namespace Vanehour.Models.Tests.Watching;

/// <summary>From stored samples to findings, and on through analyses. The synthetic pump model allows 62 kPa of vacuum without a break; here for 60 s.</summary>
public sealed class LimitWatchTests
{
    private static readonly DateTimeOffset Begin = SyntheticFleet.Begin.AddDays(21);

    private readonly FakeTimeProvider time = new(Begin);
    private readonly MemoryTelemetry samples = new();
    private MemoryStores stores = new(new SyntheticFleet([new SyntheticTruck { Id = "T1" }, new SyntheticTruck { Id = "T2" }], 60, 1));

    private FindingBook Book => new(stores);

    [Fact]
    public async Task Passed_RaisesOneStop_AndIsSaidAgainOnlyWhenItIsOver()
    {
        var watch = Watch();
        var raised = new List<Finding>();
        for (var i = 0; i < 60; i++)
        {
            await Say("T1", 65);
            await Say("T2", 55);
            raised.AddRange(await watch.LookAsync(default));
            time.Advance(TimeSpan.FromSeconds(5));
        }

        var finding = Assert.Single(raised);
        Assert.Equal(("T1", "P-T1", FindingKind.HeldAboveVacuumLimit, Urgency.Stop), (finding.Truck, finding.PumpSerial, finding.Kind, finding.Urgency));
        Assert.Equal((Begin, Begin.AddSeconds(65), 60.0), (finding.Since, finding.Watched!.LastSeen, finding.Watched.HoldS));
        Assert.Contains(finding.Evidence, e => e is { Value: 65, Unit: "kPa", ExpectedHigh: 62 });
        Assert.Equal(1, finding.Causes.Sum(c => c.Weight), 9);
        Assert.NotEmpty(finding.Checks);

        await Say("T1", 40);
        var over = Assert.Single(await watch.LookAsync(default));
        Assert.Equal((finding.Id, Begin.AddSeconds(295)), (over.Id, over.Watched!.LastSeen));
        time.Advance(TimeSpan.FromSeconds(5));
        await Say("T1", 40);
        Assert.Empty(await watch.LookAsync(default));
        Assert.Single(Book.All());
    }

    [Fact]
    public async Task Restart_SeesThePassingAgain_ButSaysNothing()
    {
        await Passing(Watch(), 80);
        var before = Assert.Single(Book.All());
        var again = Watch();
        Assert.Empty(await again.LookAsync(default));
        Assert.Equal(before.Watched, Assert.Single(Book.All()).Watched);
    }

    [Fact]
    public async Task OldSamples_AreLeftToTheAnalysis()
    {
        for (var i = 0; i < 100; i++)
        {
            await Say("T1", 65);
            time.Advance(TimeSpan.FromSeconds(5));
        }

        time.Advance(TimeSpan.FromMinutes(11));
        Assert.Empty(await Watch().LookAsync(default));
    }

    [Fact]
    public async Task OpenFindingOfTheAnalysis_IsMadeStop_NotDoubled()
    {
        stores = new MemoryStores(new SyntheticFleet([new SyntheticTruck { Id = "T1", HeldMinutes = day => day > 10 ? 4 : 0 }], 60, 1));
        var found = Assert.Single(Analyse(Begin).Findings);
        Assert.Equal((FindingKind.HeldAboveVacuumLimit, Urgency.Week), (found.Kind, found.Urgency));
        Book.Acknowledge(found.Id, "A");
        await Passing(Watch(), 80);

        var now = Assert.Single(Book.All());
        Assert.Equal((found.Id, Urgency.Stop, FindingStatus.Acknowledged, found.Since), (now.Id, now.Urgency, now.Status, now.Since));
        Assert.Equal(found.Evidence.Length + 2, now.Evidence.Length);

        // The next analysis sees both, and says each once.
        var carried = Assert.Single(Analyse(time.GetUtcNow().AddMinutes(1)).Findings);
        Assert.Equal((found.Id, Urgency.Stop, FindingStatus.Acknowledged, now.Evidence.Length), (carried.Id, carried.Urgency, carried.Status, carried.Evidence.Length));

        // Each later run is above the limit for four minutes, longer than the watch allows: nothing calls the stop off.
        var later = Assert.Single(Analyse(Begin.AddDays(9)).Findings);
        Assert.Equal((found.Id, Urgency.Stop), (later.Id, later.Urgency));
    }

    [Fact]
    public async Task StopIsCalledOff_ButTheFindingStays_WhereTheOtherRulesStillShowIt()
    {
        // Half a minute in each run is less than the watch allows; the rule's half an hour in a week is not kept for some days.
        stores = new MemoryStores(new SyntheticFleet([new SyntheticTruck { Id = "T1", HeldMinutes = day => day < 21 ? 4 : 0.5 }], 60, 1));
        var found = Assert.Single(Analyse(Begin).Findings);
        await Passing(Watch(), 80);
        var later = Assert.Single(Analyse(Begin.AddDays(1)).Findings);
        Assert.Equal((found.Id, Urgency.Week, found.Evidence.Length), (later.Id, later.Urgency, later.Evidence.Length));
        Assert.Null(later.Watched);
    }

    [Fact]
    public async Task Analysis_CarriesItOn_UntilThreeRunsKeepTheLimit()
    {
        await Passing(Watch(), 80);
        var raised = Assert.Single(Book.All());

        // The run itself is not over yet, and no other rule shows it.
        var carried = Assert.Single(Analyse(time.GetUtcNow().AddMinutes(5)).Findings);
        Assert.Equal((raised.Id, raised.Since, Urgency.Stop), (carried.Id, carried.Since, carried.Urgency));
        Assert.Equal(raised.Watched, carried.Watched);
        Assert.Equal(raised.Evidence.AsEnumerable(), carried.Evidence);

        var starts = stores.Read("T1", raised.Watched!.LastSeen).Select(r => r.End).Take(3).ToList();
        Assert.Single(Analyse(starts[1]).Findings);
        Assert.Empty(Analyse(starts[2]).Findings);
        var closed = Assert.Single(Book.All());
        Assert.Equal((FindingStatus.Closed, FindingClosing.Data), (closed.Status, closed.Closing));
    }

    [Fact]
    public async Task ClosedByAPersonInTheMidstOfIt_CountsFromThenOn()
    {
        var watch = Watch();
        await Passing(watch, 80);
        var first = Assert.Single(Book.All());
        var closedAt = time.GetUtcNow();
        Book.Close(first.Id, new Verdict(Cause.ReliefStuck, "A", null), closedAt);
        await Passing(watch, 50);
        Assert.Single(Book.All());

        await Passing(watch, 20);
        var second = Assert.Single(Book.Current());
        Assert.NotEqual(first.Id, second.Id);
        Assert.Equal(closedAt, second.Since);
    }

    [Fact]
    public async Task RaisedWhileAnAnalysisRuns_IsNotClosedByIt()
    {
        var before = Book.All();
        var outcome = new AnalysisCore(new AnalysisOptions()).Run(FleetData.Read(stores, stores, time.GetUtcNow(), default), before, null, default);
        await Passing(Watch(), 80);
        Book.SaveUnlessMarked(outcome.ChangedFindings, before);
        Assert.Equal(FindingStatus.Open, Assert.Single(Book.All()).Status);
    }

    private LimitWatch Watch() => new(samples, stores, Book, new WatchOptions { VacuumHoldS = 60 }, 1.05, time);

    private async Task Passing(LimitWatch watch, int seconds)
    {
        for (var s = 0; s < seconds; s += 5)
        {
            await Say("T1", 65);
            await watch.LookAsync(default);
            time.Advance(TimeSpan.FromSeconds(5));
        }
    }

    private Task Say(string truck, double vacuumKPa)
    {
        var values = SignalValues.Empty;
        values.Set(Signal.Vacuum, vacuumKPa);
        values.Set(Signal.Pto, 1);
        return samples.WriteAsync([new Sample(truck, time.GetUtcNow().ToUnixTimeMilliseconds(), values)], default);
    }

    private AnalysisSnapshot Analyse(DateTimeOffset asOf) => new FleetAnalysis(stores, stores, stores, stores, new AnalysisOptions()).Analyse(asOf, null, default);
}
