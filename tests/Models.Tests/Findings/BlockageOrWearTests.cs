using Vanehour.Models.Analysis;
using Vanehour.Models.Findings;
using Vanehour.Models.Tests.Synthetic;

namespace Vanehour.Models.Tests.Findings;

/// <summary>Flow that fades slowly: worn vanes where leakage takes it, something in the way where displaced flow falls.</summary>
public sealed class BlockageOrWearTests
{
    private const int Days = 130;

    [Fact]
    public void VanesThatWear_AreNearTheirLimit() =>
        Assert.Contains(FindingKind.VanesNearLimit, Kinds(t => t with { WearPer1000H = 2 }));

    [Fact]
    public void AFilterThatClogs_FadesTheVacuum_AndIsNotTakenForWornVanes()
    {
        var kinds = Kinds(t => t with { WearPer1000H = 0.05, BlockageFault = day => 0.0022 * day });
        Assert.DoesNotContain(FindingKind.VanesNearLimit, kinds);
        Assert.Contains(FindingKind.VacuumFading, kinds);
    }

    private static HashSet<FindingKind> Kinds(Func<SyntheticTruck, SyntheticTruck> change)
    {
        SyntheticTruck[] trucks = [new() { Id = "T1" }, new() { Id = "T2" }, change(new() { Id = "T3" }), new() { Id = "T4" }];
        var data = new SyntheticFleet(trucks, Days, seed: 4).Data();
        return [.. new AnalysisCore(new AnalysisOptions()).Run(data, [], null, CancellationToken.None).Snapshot.Findings.Where(f => f.Truck == "T3").Select(f => f.Kind)];
    }
}
