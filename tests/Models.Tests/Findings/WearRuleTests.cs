using Vanehour.Fleet;
using Vanehour.Models.Analysis;
using Vanehour.Models.Findings;
using Vanehour.Models.Tests.Synthetic;

namespace Vanehour.Models.Tests.Findings;

/// <summary>Wear findings from one analysis to the next.</summary>
public sealed class WearRuleTests
{
    private const int Days = 130;

    [Fact]
    public void ClosedByAPerson_IsRaisedAgainOnlyByALaterCheck()
    {
        var fleet = Fleet(2.2);
        var asOf = SyntheticFleet.Begin.AddDays(110);
        var first = Analyse(fleet, asOf, []).ChangedFindings;
        Assert.Contains(first, f => f.Kind == FindingKind.VanesNearLimit);
        Assert.Contains(first, f => f.Kind == FindingKind.VacuumFading);
        var closed = first.Select(f => f with { Status = FindingStatus.Closed, Closed = asOf, CauseFound = Cause.VanesWorn }).ToList();

        Assert.Empty(Analyse(fleet, asOf.AddMinutes(1), closed).ChangedFindings);

        var later = Analyse(fleet, SyntheticFleet.Begin.AddDays(Days), closed).ChangedFindings;
        var again = Assert.Single(later, f => f.Kind == FindingKind.VanesNearLimit);
        Assert.True(again.Since > asOf);
        Assert.DoesNotContain(again.Id, closed.Select(f => f.Id));
    }

    [Fact]
    public void Fading_OpensAtItsThreshold_AndGoesOnSomewhatBelow()
    {
        // Wear of about 0.69 at the end; 0.75 opens.
        var fleet = Fleet(1.65);
        var options = new AnalysisOptions { Findings = new FindingOptions { FadingRateRatio = 100 } };
        var end = SyntheticFleet.Begin.AddDays(Days);
        var without = Analyse(fleet, end, [], options);
        Assert.InRange(without.Snapshot.Wear.Single(w => w.Truck == "T3").Wear!.Mid, 0.62, 0.74);
        Assert.DoesNotContain(without.ChangedFindings, f => f.Kind == FindingKind.VacuumFading);

        var open = new Finding
        {
            Id = "open",
            Truck = "T3",
            PumpSerial = "P-T3",
            Kind = FindingKind.VacuumFading,
            Urgency = Urgency.Week,
            Status = FindingStatus.Open,
            Since = SyntheticFleet.Begin.AddDays(100),
            Evidence = [],
            Causes = [],
            Checks = [],
        };
        var goesOn = Assert.Single(Analyse(fleet, end, [open], options).ChangedFindings, f => f.Kind == FindingKind.VacuumFading);
        Assert.Equal((open.Id, open.Since, FindingStatus.Open), (goesOn.Id, goesOn.Since, goesOn.Status));
    }

    private static SyntheticFleet Fleet(double wearPer1000H) => new(
        [new() { Id = "T1" }, new() { Id = "T2" }, new() { Id = "T3", WearPer1000H = wearPer1000H }, new() { Id = "T4" }], Days, seed: 1);

    private static AnalysisOutcome Analyse(SyntheticFleet fleet, DateTimeOffset asOf, IReadOnlyList<Finding> before, AnalysisOptions? options = null) =>
        new AnalysisCore(options ?? new AnalysisOptions()).Run(fleet.Data(asOf), before, null, CancellationToken.None);
}
