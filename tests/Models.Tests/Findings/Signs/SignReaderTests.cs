using System.Collections.Immutable;
using Vanehour.Models.Findings;
using Vanehour.Models.Indicators;
using Vanehour.Models.OilUse;
using Vanehour.Models.TemperatureRise;
using Vanehour.Models.Tests.Synthetic;
using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Tests.Findings.Signs;

public sealed class SignReaderTests
{
    private const int Days = 130;
    private const int Onset = 91;
    private static readonly DateTimeOffset OnsetAt = SyntheticFleet.Begin.AddDays(Onset);

    [Fact]
    public void NothingWrong_NothingMoved()
    {
        for (var seed = 1; seed <= 10; seed++)
        {
            Assert.All(Read(t => t, seed), r => Assert.Equal(SignState.Normal, r.State));
        }
    }

    [Theory]
    [InlineData(0.85, SignState.Low)]
    [InlineData(0.96, SignState.Normal)]
    [InlineData(1.04, SignState.Normal)]
    [InlineData(1.15, SignState.High)]
    public void OilUse_IsHeldAgainstItsExpectation(double factor, SignState state)
    {
        var reading = Of(Sign.OilUse, t => t with { OilFault = After(1, factor) });
        Assert.Equal(state, reading.State);
        Assert.Equal(factor, reading.Recent / reading.Usual, 0.04);
    }

    [Theory]
    [InlineData(-6, SignState.Low)]
    [InlineData(1, SignState.Normal)]
    [InlineData(6, SignState.High)]
    public void TemperatureRise(double shiftK, SignState state)
    {
        var reading = Of(Sign.TemperatureRise, t => t with { HeatFault = After(0, shiftK) });
        Assert.Equal(state, reading.State);
        Assert.Equal(shiftK, reading.Recent - reading.Usual, 2.0);
    }

    [Fact]
    public void ALeak_MovesLeakageAndNetFlow_ABlockageNetFlowAlone()
    {
        SyntheticTruck Leaking(SyntheticTruck t) => t with { LeakFault = After(0, 0.1) };
        Assert.Equal(SignState.High, Of(Sign.LeakRatio, Leaking).State);
        Assert.Equal(SignState.Low, Of(Sign.NetFlow, Leaking).State);

        SyntheticTruck Blocked(SyntheticTruck t) => t with { BlockageFault = After(0, 0.1) };
        Assert.Equal(SignState.Normal, Of(Sign.LeakRatio, Blocked).State);
        Assert.Equal(SignState.Low, Of(Sign.NetFlow, Blocked).State);
    }

    [Theory]
    [InlineData(-4, SignState.Low)]
    [InlineData(0, SignState.Normal)]
    [InlineData(4, SignState.High)]
    public void ReliefLift(double shiftKPa, SignState state) => Assert.Equal(state, Of(Sign.ReliefLift, t => t with { ReliefFault = After(0, shiftKPa) }).State);

    [Fact]
    public void WhatIsNotMeasured_IsLeftOut() => Assert.DoesNotContain(Read(t => t with { HasSpeed = false }), r => r.Sign == Sign.Speed);

    [Fact]
    public void WithoutATimeBefore_NothingIsSaid() =>
        Assert.Empty(SignReader.Read(State(t => t, 1), SyntheticFleet.Begin.AddDays(1)));

    private static Func<double, double> After(double before, double after) => day => day < Onset ? before : after;

    private static SignReading Of(Sign sign, Func<SyntheticTruck, SyntheticTruck> spoil) => Read(spoil).Single(r => r.Sign == sign);

    private static ImmutableArray<SignReading> Read(Func<SyntheticTruck, SyntheticTruck> spoil, int seed = 1) => SignReader.Read(State(spoil, seed), OnsetAt);

    private static PumpState State(Func<SyntheticTruck, SyntheticTruck> spoil, int seed)
    {
        SyntheticTruck[] trucks = [spoil(new() { Id = "T1", WearPer1000H = 0.02 }), new() { Id = "T2" }, new() { Id = "T3" }, new() { Id = "T4" }];
        var data = new SyntheticFleet(trucks, Days, seed).Data();
        var options = new ExpectationOptions();
        var pump = data.Pumps.First(p => p.Truck.Id == "T1");
        var judge = new WithinPumpExpectation(options);
        return new PumpState
        {
            Pump = pump,
            Judgements =
            [
                .. new[] { OilUseIndicator.Define(options.Shift), TemperatureRiseIndicator.Define(options.Shift) }
                    .SelectMany(d => judge.Learn(d, pump.Model.Model, data.Pumps).Pumps)
                    .Where(j => ReferenceEquals(j.Pump, pump)),
            ],
            Wear = new FleetWear(new WearOptions()).Forecast(data, 1, CancellationToken.None).First(w => w.Forecast.Truck == "T1").Forecast,
            PeerWear = [],
            OpenBefore = [],
            DealtWith = ImmutableDictionary<FindingKind, DateTimeOffset>.Empty,
        };
    }
}
