using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Analysis;
using Vanehour.Models.Findings;
using Vanehour.Models.Tests.Synthetic;

namespace Vanehour.Models.Tests.Findings;

public sealed class FeedRuleTests
{
    private const int Days = 60;

    // The synthetic fleet begins on a Monday and works Monday to Friday; this is the Friday evening of its eighth week.
    private static readonly DateTimeOffset Friday = SyntheticFleet.Begin.AddDays(53).AddHours(18);

    [Theory]
    [InlineData(2.6, false)]
    [InlineData(3.9, false)]
    [InlineData(5.5, true)]
    public void Silence_IsJudgedByTheTrucksOwnPattern_SoThatAWeekendIsNone(double days, bool isSilent)
    {
        var asOf = Friday.AddDays(days);
        var findings = Find(asOf, new FeedSigns(Friday, 0, null));
        if (!isSilent)
        {
            Assert.Empty(findings);
            return;
        }

        var finding = Assert.Single(findings);
        Assert.Equal(FindingKind.FeedSilent, finding.Kind);
        Assert.Equal(Friday, finding.Since);
        Assert.Equal(24 * days, finding.Evidence[0].Value, 6);
        Assert.Equal(Cause.GatewaySilent, finding.Causes[0].Cause);
    }

    [Fact]
    public void Silence_OfATruckOutOfService_IsNone() =>
        Assert.Empty(Find(Friday.AddDays(30), new FeedSigns(Friday, 0, null), t => t with { InService = false }));

    [Fact]
    public void Silence_WithoutAPattern_IsLeftForAWeek()
    {
        var runs = new SyntheticFleet([new SyntheticTruck { Id = "T1" }], 4, 1).RunsOf("T1");
        Assert.Equal(TimeSpan.FromDays(8), FeedRule.UsualPause(runs, Friday));
    }

    [Fact]
    public void Silence_OnceDealtWith_CountsAgainOnlyAfterTheTruckHasSpoken()
    {
        var asOf = Friday.AddDays(9);
        var closed = Find(asOf, new FeedSigns(Friday, 0, null))[0] with { Status = FindingStatus.Closed, Closed = asOf, CauseFound = Cause.GatewaySilent };
        Assert.DoesNotContain(Find(asOf.AddDays(5), new FeedSigns(Friday, 0, null), before: closed), f => f.Status == FindingStatus.Open);
        Assert.Single(Find(asOf.AddDays(12), new FeedSigns(asOf.AddDays(1), 0, null), before: closed), f => f.Status == FindingStatus.Open);
    }

    [Fact]
    public void ImpossibleInstants_AreAWrongClock()
    {
        Assert.Empty(Find(Friday, new FeedSigns(Friday, 19, Friday)));
        Assert.Equal(FindingKind.ClockWrong, Assert.Single(Find(Friday, new FeedSigns(Friday, 20, Friday))).Kind);
    }

    [Fact]
    public void StuckSensor_IsFoundWhileItLasts()
    {
        Assert.Equal(FindingKind.SensorStuck, Assert.Single(Find(Friday, null, change: Note(RunNote.SensorStuck, 40, 60))).Kind);
        Assert.Empty(Find(Friday, null, change: Note(RunNote.SensorStuck, 10, 30)));

        // Two runs are chance.
        Assert.Empty(Find(Friday, null, change: (day, run) =>
            day == 52 && run.Start.Hour < 10 ? run with { Quality = run.Quality with { Notes = [RunNote.SensorStuck] } } : run));
    }

    [Fact]
    public void MeterThatJumps_IsFound_UnlessItWasReplaced()
    {
        Func<int, Run, Run> reset = (day, run) => day < 40 ? run : run with { MeterStartH = run.MeterStartH - 900, MeterEndH = run.MeterEndH - 900 };
        var finding = Assert.Single(Find(Friday, null, change: reset));
        Assert.Equal(FindingKind.MeterJumped, finding.Kind);
        Assert.Equal(Cause.MeterReset, finding.Causes[0].Cause);
        Assert.Equal(-900, finding.Evidence[0].Value, 1.0);

        var record = new ServiceRecord { RecordId = "R", Truck = "T1", At = SyntheticFleet.Begin.AddDays(40).AddHours(5), MeterH = 1100, Kind = ServiceKind.MeterReplaced, Value = 200, Unit = "h" };
        Assert.Empty(Find(Friday, null, change: reset, record: record));
        Assert.Equal(FindingKind.MeterJumped, Assert.Single(Find(Friday, null, change: Note(RunNote.MeterDisagrees, 45, 60))).Kind);
    }

    private static Func<int, Run, Run> Note(RunNote note, int from, int to) => (day, run) =>
        day >= from && day < to ? run with { Quality = run.Quality with { Notes = [note] } } : run;

    private static List<Finding> Find(
        DateTimeOffset asOf,
        FeedSigns? feed,
        Func<Truck, Truck>? truck = null,
        Func<int, Run, Run>? change = null,
        ServiceRecord? record = null,
        Finding? before = null)
    {
        var fleet = new SyntheticFleet([new SyntheticTruck { Id = "T1", Records = record is null ? [] : [record] }], Days, 3);
        var data = FleetData.Build(
            [fleet.Model],
            [.. fleet.Trucks.Select(truck ?? (t => t))],
            fleet.Records,
            id => [.. fleet.RunsOf(id).Select(r => change is null ? r : change((r.Start - SyntheticFleet.Begin).Days, r))],
            asOf) with
        {
            Feeds = feed is null ? ImmutableDictionary<string, FeedSigns>.Empty : ImmutableDictionary<string, FeedSigns>.Empty.Add("T1", feed),
        };
        return [.. new AnalysisCore(new AnalysisOptions()).Run(data, before is null ? [] : [before], null, CancellationToken.None).Snapshot.Findings];
    }
}
