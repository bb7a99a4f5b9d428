using Microsoft.Extensions.Time.Testing;
using NSubstitute;
using Vanehour.Fleet;
using Vanehour.Fleet.Register;
using Vanehour.Fleet.Units;
using Vanehour.Models.Runs;

namespace Vanehour.Models.Tests.Runs;

/// <summary>The register is changed after runs were derived with it.</summary>
public class ChangedRegisterTests
{
    private static readonly PumpModel Lenient = Register.Model with { MaxVacuum = Pressure.FromInchesOfMercury(25) };
    private static readonly PumpModel Strict = Register.Model with { MaxVacuum = Pressure.FromInchesOfMercury(8) };

    private readonly MemoryTelemetry telemetry = new();
    private readonly MemoryRuns runs = new();
    private readonly FakeTimeProvider clock = new(Register.Fitted.AddYears(1));

    [Fact]
    public async Task LowerVacuumLimitOfThePumpModel_CountsForPastRuns()
    {
        var feed = await FourDays(61);
        await Service(Of(Lenient)).DeriveAsync(null, null, default);
        Assert.All(runs.Read("T01"), r => Assert.Equal(0, r.MinutesAboveVacuumLimit ?? 0));
        var strict = Of(Strict);

        var result = await Service(strict).DeriveAsync(null, null, default);

        Assert.Equal(["T01"], result.DerivedAgain.AsEnumerable());
        Assert.Equal(feed.Samples.Count, result.SamplesRead);
        Assert.Contains(runs.Read("T01"), r => r.MinutesAboveVacuumLimit > 1);
        Assert.Empty((await Service(strict).DeriveAsync(null, null, default)).Derived);
    }

    [Fact]
    public async Task OtherElevationOfTheYard_CountsForPastRuns()
    {
        await FourDays(62);
        await Service(Of(Register.Model)).DeriveAsync(null, null, default);
        var before = runs.Read("T01");

        await Service(Of(Register.Model, Register.Truck() with { Elevation = Length.FromMetres(1500) })).DeriveAsync(null, null, default);

        Assert.All(before.Zip(runs.Read("T01")), pair => Assert.True(pair.Second.BaroKPa < pair.First.BaroKPa - 10));
    }

    [Fact]
    public async Task ReliefRecordAddedLater_CountsFromItsInstantOn()
    {
        var feed = await FourDays(63);
        await Service(Of(Register.Model)).DeriveAsync(null, null, default);
        var before = runs.Read("T01");
        var set = new ServiceRecord
        {
            Truck = "T01",
            At = before[^3].Start.AddMinutes(-1),
            MeterH = 120,
            Kind = ServiceKind.ReliefVacuumSet,
            Value = 40,
            Unit = "kPa",
        };
        var register = Of(Register.Model, Register.Truck(), set);

        var result = await Service(register).DeriveAsync(null, null, default);

        Assert.InRange(result.SamplesRead, 1, feed.Samples.Count / 2);
        Assert.Equal(RunDeriverTests.Derive(feed, set), runs.Read("T01"));
        Assert.Empty((await Service(register).DeriveAsync(null, null, default)).Derived);
    }

    [Fact]
    public async Task RecordTakenBack_GivesTheRunsOfBefore()
    {
        await FourDays(64);
        var without = Of(Register.Model);
        await Service(without).DeriveAsync(null, null, default);
        var before = runs.Read("T01");
        var hose = new ServiceRecord { Truck = "T01", At = before[2].Start, MeterH = 110, Kind = ServiceKind.Hose };
        await Service(Of(Register.Model, Register.Truck(), hose)).DeriveAsync(null, null, default);

        var result = await Service(without).DeriveAsync(null, null, default);

        Assert.Equal(["T01"], result.DerivedAgain.AsEnumerable());
        Assert.Equal(before, runs.Read("T01"));
    }

    [Fact]
    public async Task AsOfAnInstantBeforeTheLastSample_LeavesTheRestToTheNextDerivation()
    {
        await FourDays(65);
        await Service(Of(Lenient)).DeriveAsync(null, null, default);
        var strict = Of(Strict);

        await Service(strict).DeriveAsync(runs.Read("T01")[1].End, null, default);
        Assert.Equal(0, runs.Read("T01")[^1].MinutesAboveVacuumLimit ?? 0);
        await Service(strict).DeriveAsync(null, null, default);

        var all = runs.Read("T01");
        await Service(strict).DeriveAgainAsync(null, null, default);
        Assert.Equal(runs.Read("T01"), all);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task SampleFromBeforeTheRetention_DropsNoRunWhoseSamplesAreGone(bool registerChangesToo)
    {
        var feed = await FourDays(66);
        await Service(Of(Register.Model)).DeriveAsync(null, null, default);
        var before = runs.Read("T01");
        var cut = before[^4];
        telemetry.DeleteBefore(cut.Start.AddSeconds(90).ToUnixTimeMilliseconds());
        var late = feed.Samples.First(s => s.UnixMs > before[1].Start.ToUnixTimeMilliseconds());
        await telemetry.WriteAsync([late], default);
        var model = registerChangesToo ? Strict : Register.Model;

        await Service(Of(model)).DeriveAsync(null, null, default);

        Assert.Equal(before.Select(r => r.Start), runs.Read("T01").Select(r => r.Start));
        Assert.Equal(before.Take(before.Count - 3), runs.Read("T01").Take(before.Count - 3));
        Assert.Empty(await telemetry.TouchedAsync(default));

        await Service(Of(Register.Model)).DeriveAgainAsync(null, null, default);
        Assert.Equal(before, runs.Read("T01"));
    }

    [Fact]
    public void Basis_ComesBackFromItsText_AndSaysFromWhenOnItDiffers()
    {
        var at = Register.Fitted.AddDays(3);
        var hose = new ServiceRecord { Truck = "T01", At = at, MeterH = 110, Kind = ServiceKind.Hose };
        var without = RunBasis.Parse(Register.Context().Basis().ToString())!;
        var with = Register.Context(hose).Basis();

        Assert.Null(RunBasis.FirstDifferenceMs(without, Register.Context().Basis()));
        Assert.Equal(at.ToUnixTimeMilliseconds(), RunBasis.FirstDifferenceMs(without, with));
        Assert.Equal(at.ToUnixTimeMilliseconds(), RunBasis.FirstDifferenceMs(with, without));
        Assert.Equal(long.MinValue, RunBasis.FirstDifferenceMs(null, with));
        Assert.Null(RunBasis.Parse("written by something else"));
    }

    private async Task<TruckFeed> FourDays(int seed)
    {
        var feed = new TruckFeed(seed).Day().Day().Day().Day();
        await telemetry.WriteAsync(feed.Samples, default);
        return feed;
    }

    private static IFleetRegister Of(PumpModel model, Truck? truck = null, params ServiceRecord[] records)
    {
        var register = Substitute.For<IFleetRegister>();
        register.Trucks().Returns([truck ?? Register.Truck()]);
        register.PumpModels().Returns([model]);
        register.ServiceRecords(Arg.Any<string?>()).Returns(records);
        return register;
    }

    private RunDerivation Service(IFleetRegister register) => new(telemetry, runs, register, clock, new RunSettings());
}
