using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Models.Findings;

namespace Vanehour.Models.Tests.Findings.Signs;

/// <summary>What the table of signs makes of causes that one finding has in common.</summary>
public sealed class KnowledgeSignsTests
{
    private static readonly DateTimeOffset Day = new(2026, 5, 1, 0, 0, 0, TimeSpan.Zero);

    [Theory]
    [InlineData(SignState.Low, 4)]
    [InlineData(SignState.Normal, 0.25)]
    [InlineData(SignState.High, 0.0625)]
    [InlineData(SignState.Unknown, 1)]
    public void ASignWeighs_ByWhereItStands(SignState seen, double factor) =>
        Assert.Equal(factor, new ExpectedSign(Sign.NetFlow, SignState.Low, 4).Weigh(seen), 12);

    [Theory]
    [InlineData(SignState.Normal, 3)]
    [InlineData(SignState.High, 1.0 / 3)]
    [InlineData(SignState.Low, 1.0 / 3)]
    public void ASignThatShouldStandStill_HasNoOppositeSide(SignState seen, double factor) =>
        Assert.Equal(factor, new ExpectedSign(Sign.NetFlow, SignState.Normal, 3).Weigh(seen), 12);

    [Fact]
    public void EveryRow_IsSound()
    {
        var rows = Knowledge.Default.Signs;
        Assert.Equal(rows.Length, rows.Select(r => r.Cause).Distinct().Count());
        Assert.All(rows, r =>
        {
            Assert.NotEmpty(r.Source);
            Assert.NotEmpty(r.Signs);
            Assert.Equal(r.Signs.Length, r.Signs.Select(s => s.Sign).Distinct().Count());
            Assert.All(r.Signs, s => Assert.True(s.Factor > 1 && s.State != SignState.Unknown));
        });

        // Every cause of the pump is in the table; instruments, meters, gateways and stores do nothing to the pump.
        Cause[] without =
        [
            Cause.SensorWrong, Cause.MeterReset, Cause.GatewaySilent, Cause.StoreUnreachable, Cause.StoreRefusing, Cause.StoreSlow,
        ];
        Assert.Equal(Enum.GetValues<Cause>().Except(without).Order(), rows.Select(r => r.Cause).Order());
    }

    [Fact]
    public void EveryCauseOfThePump_IsListedByAFinding()
    {
        var listed = Knowledge.Default.Findings.SelectMany(f => f.Causes).Select(c => c.Cause).ToHashSet();
        Assert.All(Enum.GetValues<Cause>(), c => Assert.Contains(c, listed));
    }

    [Fact]
    public void FadingVacuum_WithoutMoreLeakage_IsInTheWayOfTheAir()
    {
        var causes = Rank(FindingKind.VacuumFading, (Sign.NetFlow, SignState.Low), (Sign.LeakRatio, SignState.Normal), (Sign.TemperatureRise, SignState.Normal));
        Assert.Equal(Cause.InletFilterClogged, causes[0].Cause);
        Assert.Contains(Cause.HoseLiningInlet, causes.Take(3).Select(c => c.Cause));
        Assert.Equal([Sign.TemperatureRise, Sign.NetFlow, Sign.LeakRatio], causes[0].For.Order());
        Assert.Equal(Sign.LeakRatio, Assert.Single(causes.Single(c => c.Cause == Cause.VanesWorn).Against));
    }

    [Fact]
    public void FadingVacuum_WithMoreLeakage_IsWear_OrALeak()
    {
        var causes = Rank(FindingKind.VacuumFading, (Sign.NetFlow, SignState.Low), (Sign.LeakRatio, SignState.High), (Sign.UltimateVacuum, SignState.Low));
        Assert.Equal([Cause.VanesWorn, Cause.LeakTankSide], causes.Take(2).Select(c => c.Cause).Order().Reverse());
    }

    [Fact]
    public void FadingVacuum_WithLessOilAndLessHeat_IsASlowerPump() => Assert.Equal(
        Cause.CouplingSlip,
        Rank(
            FindingKind.VacuumFading,
            (Sign.OilUse, SignState.Low),
            (Sign.TemperatureRise, SignState.Low),
            (Sign.NetFlow, SignState.Low),
            (Sign.LeakRatio, SignState.High))[0].Cause);

    [Fact]
    public void FadingVacuum_WithARestlessTemperature_IsCarryOver() => Assert.Equal(
        Cause.CarryOver,
        Rank(FindingKind.VacuumFading, (Sign.TemperatureHunting, SignState.High), (Sign.LeakRatio, SignState.High), (Sign.NetFlow, SignState.Low))[0].Cause);

    [Fact]
    public void RunningHot_WithLessFlow_PointsToTheDischargeHose()
    {
        var hot = Rank(FindingKind.RunningHot, (Sign.TemperatureRise, SignState.High), (Sign.NetFlow, SignState.Normal), (Sign.OilUse, SignState.Normal));
        var less = Rank(FindingKind.RunningHot, (Sign.TemperatureRise, SignState.High), (Sign.NetFlow, SignState.Low), (Sign.OilUse, SignState.Normal));
        Assert.True(Place(less) < Place(hot));
        Assert.True(Place(less) < 3);

        static int Place(ImmutableArray<RankedCause> causes) => causes.Select(c => c.Cause).ToList().IndexOf(Cause.HoseLiningDischarge);
    }

    private static ImmutableArray<RankedCause> Rank(FindingKind kind, params (Sign Sign, SignState State)[] signs) => Knowledge.Default.Explain(
        new FindingDraft(kind, Day, false, []),
        new HashSet<FindingKind>(),
        [.. signs.Select(s => new SignReading(s.Sign, s.State, 1, 1, "1"))]).Causes;
}
