using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Analysis;
using Vanehour.Models.Findings;
using Vanehour.Models.Tests.Synthetic;

namespace Vanehour.Models.Tests.Findings;

/// <summary>A speed that leaves its range is found before it is out; one that moves inside it is nobody's business.</summary>
public sealed class SpeedRuleTests
{
    private const int Days = 100;
    private const int Onset = 80;

    [Theory]
    [InlineData(1.0, false)]
    [InlineData(1.06, false)] // 1180 rpm becomes 1251: well inside 1000 to 1400.
    [InlineData(1.14, true)] // 1345: in the last fifth, and moved there.
    [InlineData(0.89, true)] // 1050
    public void OnlyASpeedThatHasMovedToTheEndOfItsRange_IsFound(double factor, bool isFound)
    {
        var findings = Analyse(factor);
        if (!isFound)
        {
            Assert.DoesNotContain(findings, f => f.Kind == FindingKind.SpeedOutOfRange);
            return;
        }

        var finding = Assert.Single(findings, f => f.Kind == FindingKind.SpeedOutOfRange);
        Assert.Equal("T3", finding.Truck);
        Assert.InRange(finding.Since, SyntheticFleet.Begin.AddDays(Onset), SyntheticFleet.Begin.AddDays(Onset + 8));

        // Oil and heat of these runs stay as they were, so that a wrong sensor is a rival here; the other side is none.
        var causes = finding.Causes.Select(c => c.Cause).ToList();
        Assert.Contains(factor > 1 ? Cause.Overspeed : Cause.Underspeed, causes.Take(2));
        Assert.DoesNotContain(factor > 1 ? Cause.Underspeed : Cause.Overspeed, causes);
    }

    private static ImmutableArray<Finding> Analyse(double factor)
    {
        SyntheticTruck[] trucks = [new() { Id = "T1" }, new() { Id = "T2" }, new() { Id = "T3" }, new() { Id = "T4" }];
        var fleet = new SyntheticFleet(trucks, Days, seed: 3);
        var data = FleetData.Build([fleet.Model], fleet.Trucks, fleet.Records, Runs, fleet.End);
        return new AnalysisCore(new AnalysisOptions()).Run(data, [], null, CancellationToken.None).Snapshot.Findings;

        IReadOnlyList<Run> Runs(string truck) =>
        [
            .. fleet.RunsOf(truck).Select(r => truck == "T3" && r.Start >= SyntheticFleet.Begin.AddDays(Onset) ? r with { SpeedMeanRpm = factor * r.SpeedMeanRpm } : r),
        ];
    }
}
