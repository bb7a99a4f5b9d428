using Vanehour.Fleet;
using Vanehour.Fleet.Runs;

namespace Vanehour.Models.Tests.Runs;

public class StartUpCheckTests
{
    [Fact]
    public void FirstPumpDownAfterRest_EndingAtTheRelief_IsACheck()
    {
        var feed = new TruckFeed(21);
        feed.Idle(300).Neutral(20).Pull(140).Neutral(60).Idle(10);

        var pumpDown = Assert.Single(RunDeriverTests.Derive(feed)).FirstPumpDown!;

        Assert.True(pumpDown.IsStartUpCheck);
        Assert.Null(pumpDown.Refusal);
        Assert.True(pumpDown.EndedAtRelief);
        Assert.Equal(61, pumpDown.PlateauKPa, 0.4);
        Assert.Equal(feed.Flow, pumpDown.FlowPerVolumePerS, 4 * pumpDown.FlowPerVolumeSe);
        Assert.InRange(pumpDown.FlowPerVolumeSe, 1e-6, 0.05 * feed.Flow);
        Assert.Equal(feed.Leak, pumpDown.LeakPerVolumePerS!.Value, 4 * pumpDown.LeakPerVolumeSe!.Value);
        Assert.Equal(feed.Flow - (feed.Leak * 40 / 61.325), pumpDown.NetFlowPerVolumePerS, 4 * pumpDown.NetFlowPerVolumeSe);
        Assert.Equal(1200, pumpDown.SpeedRpm!.Value, 3.0);
        Assert.Equal(40, pumpDown.ReferenceVacuumKPa);

        // v = 95.6 (1 - exp(-0.01767 t)) from 16.93 to 40.64 kPa.
        var ultimate = 101.325 / 1.06;
        var rate = 1.06 / 60;
        Assert.Equal((Math.Log(1 - (16.932 / ultimate)) - Math.Log(1 - (40.637 / ultimate))) / rate, pumpDown.WatchTime5To12InHgS!.Value, 1.0);
    }

    [Fact]
    public void WornPump_EndsAtItsOwnUltimateAndIsStillACheck()
    {
        var feed = new TruckFeed(22) { Leak = 0.75 / 60 };
        feed.Idle(300).Neutral(20).Pull(240).Neutral(60).Idle(10);

        var pumpDown = Assert.Single(RunDeriverTests.Derive(feed)).FirstPumpDown!;

        Assert.True(pumpDown.IsStartUpCheck);
        Assert.False(pumpDown.EndedAtRelief);
        Assert.Equal(101.325 / 1.75, pumpDown.UltimateKPa, 1.0);
    }

    /// <summary>At a high yard the rise is already slow when it meets the valve: how long it is level says little there.</summary>
    [Theory]
    [InlineData(350, true)]
    [InlineData(235, false)]
    public void ReliefNearTheUltimate_IsToldFromASlowRise(double pullS, bool isCheck)
    {
        var feed = new TruckFeed(32) { AmbientKPa = 83.4, Flow = 0.0096, Leak = 0.0006, ReliefKPa = isCheck ? 71 : 90 };
        var set = new ServiceRecord
        {
            At = Register.Fitted,
            Truck = "T01",
            MeterH = 100,
            Kind = ServiceKind.ReliefVacuumSet,
            Value = 71,
            Unit = "kPa",
        };
        feed.Missing.Remove(Signal.Baro);
        feed.BaroKPa = 83.4;
        feed.Idle(300).Neutral(20).Pull(pullS).Neutral(60).Idle(10);

        var pumpDown = Assert.Single(RunDeriverTests.Derive(feed, set)).FirstPumpDown!;

        Assert.Equal(isCheck, pumpDown.EndedAtRelief);
        Assert.Equal(isCheck ? null : CheckRefusal.CutShort, pumpDown.Refusal);
        Assert.Equal(83.4, pumpDown.AmbientKPa, 0.5);
    }

    [Fact]
    public void WithoutRest_ItIsNoCheck()
    {
        var feed = new TruckFeed(23);
        feed.Idle(300).Neutral(20).Pull(140).Neutral(60).Idle(200).Neutral(20).Pull(140).Idle(10);

        var runs = RunDeriverTests.Derive(feed);

        Assert.True(runs[0].FirstPumpDown!.IsStartUpCheck);
        Assert.Equal(CheckRefusal.NoRestBefore, runs[1].FirstPumpDown!.Refusal);
    }

    [Fact]
    public void MeterThatMovedInTheSilence_SaysItWasNoRest()
    {
        var feed = new TruckFeed(24);
        feed.Idle(300).Neutral(20).Pull(140).Idle(10).Silence(600);
        feed.MeterH += 2;
        feed.Idle(2).Neutral(20).Pull(140).Idle(10);

        Assert.Equal(CheckRefusal.NoRestBefore, RunDeriverTests.Derive(feed)[1].FirstPumpDown!.Refusal);
    }

    [Fact]
    public void StoppedShort_IsNoCheck()
    {
        var feed = new TruckFeed(25);
        feed.Idle(300).Neutral(20).Pull(40).Neutral(300).Idle(10);

        Assert.Equal(CheckRefusal.CutShort, Assert.Single(RunDeriverTests.Derive(feed)).FirstPumpDown!.Refusal);
    }

    [Fact]
    public void LevelFarFromTheSetting_IsNoCheck_UnlessTheSettingWasMoved()
    {
        var feed = new TruckFeed(26) { ReliefKPa = 45 };
        feed.Idle(300).Neutral(20).Pull(140).Neutral(300).Idle(10);

        var refused = Assert.Single(RunDeriverTests.Derive(feed)).FirstPumpDown!;
        Assert.Equal(CheckRefusal.CutShort, refused.Refusal);
        Assert.True(refused.EndedAtRelief);

        var set = new ServiceRecord
        {
            At = Register.Fitted,
            Truck = "T01",
            MeterH = 100,
            Kind = ServiceKind.ReliefVacuumSet,
            Value = 45,
            Unit = "kPa",
        };
        Assert.True(Assert.Single(RunDeriverTests.Derive(feed, set)).FirstPumpDown!.IsStartUpCheck);
    }

    [Fact]
    public void ValveTurnedHalfWay_IsNotSmooth()
    {
        var feed = new TruckFeed(27);
        feed.Idle(300).Neutral(20).Pull(140).Neutral(300).Idle(10);
        var rise = feed.Samples.FindIndex(s => s[Signal.Vacuum] > 20);
        for (var i = rise; i < rise + 6; i++)
        {
            var values = feed.Samples[i].Values;
            values.Set(Signal.Vacuum, 20 + (i % 2 * 2.5));
            feed.Samples[i] = feed.Samples[i] with { Values = values };
        }

        Assert.Equal(CheckRefusal.NotSmooth, Assert.Single(RunDeriverTests.Derive(feed)).FirstPumpDown!.Refusal);
    }

    [Fact]
    public void SparseSamples_AreTooFew()
    {
        var feed = new TruckFeed(28) { EveryS = 18 };
        feed.Idle(300).Neutral(18).Pull(180).Idle(10);

        Assert.Equal(CheckRefusal.TooFewSamples, Assert.Single(RunDeriverTests.Derive(feed)).FirstPumpDown!.Refusal);
    }

    [Fact]
    public void PartlyFullTank_IsSetAside_AndThreeInARowAreBelieved()
    {
        var feed = new TruckFeed(29);
        feed.Idle(300);
        double[] flow = [1, 1, 1, 1, 1.15, 1, 1.15, 1.15, 1.15, 1.15];
        foreach (var f in flow)
        {
            feed.Flow = f / 60;
            feed.Leak = f * 0.06 / 60;
            feed.Neutral(20).Pull(140).Neutral(60).Idle(300);
        }

        var refusals = RunDeriverTests.Derive(feed).Select(r => r.FirstPumpDown!.Refusal).ToArray();

        Assert.Equal([null, null, null, null, CheckRefusal.TooFast, null, CheckRefusal.TooFast, CheckRefusal.TooFast, null, null], refusals);
    }

    [Fact]
    public void ServiceRecord_ExplainsAFasterPumpDown()
    {
        var feed = new TruckFeed(30);
        feed.Idle(300);
        for (var i = 0; i < 6; i++)
        {
            feed.Flow = (i < 4 ? 1 : 1.15) / 60;
            feed.Neutral(20).Pull(140).Neutral(60).Idle(300);
        }

        var rebuilt = feed.Samples.Last(s => s[Signal.Vacuum] > 60).At.AddHours(-6);
        Assert.Contains(CheckRefusal.TooFast, RunDeriverTests.Derive(feed).Select(r => r.FirstPumpDown!.Refusal ?? CheckRefusal.CutShort));
        var record = new ServiceRecord { At = rebuilt.AddHours(-5.5), Truck = "T01", MeterH = 100, Kind = ServiceKind.Rebuild };
        Assert.All(RunDeriverTests.Derive(feed, record), r => Assert.True(r.FirstPumpDown!.IsStartUpCheck));
    }

    [Fact]
    public void ServiceThatGivesNothingBack_ExplainsNoPartlyFullTank()
    {
        var feed = new TruckFeed(32);
        feed.Idle(300);
        for (var i = 0; i < 6; i++)
        {
            feed.Flow = (i < 5 ? 1 : 1.15) / 60;
            feed.Neutral(20).Pull(140).Neutral(60).Idle(300);
        }

        var runs = RunDeriverTests.Derive(feed);
        var record = new ServiceRecord { At = runs[5].Start.AddHours(-2), Truck = "T01", MeterH = 100, Kind = ServiceKind.InletFilter };

        Assert.Equal(CheckRefusal.TooFast, RunDeriverTests.Derive(feed, record)[5].FirstPumpDown!.Refusal);
    }

    [Fact]
    public void ServiceThatGivesBackWhatWasLost_ExplainsAFasterPumpDown()
    {
        var feed = new TruckFeed(33);
        feed.Idle(300);
        for (var i = 0; i < 20; i++)
        {
            // A filter clogs on the fourth day and is cleaned before the last check.
            feed.Flow = (i is < 4 or 19 ? 1 : 0.85) / 60;
            feed.Neutral(20).Pull(160).Neutral(60).Idle(300);
        }

        var runs = RunDeriverTests.Derive(feed);
        Assert.Equal(CheckRefusal.TooFast, runs[19].FirstPumpDown!.Refusal);
        var record = new ServiceRecord { At = runs[19].Start.AddHours(-2), Truck = "T01", MeterH = 100, Kind = ServiceKind.InletFilter };

        Assert.True(RunDeriverTests.Derive(feed, record)[19].FirstPumpDown!.IsStartUpCheck);
    }

    [Fact]
    public void PartlyFullTankOnTheSecondMorning_IsSetAside()
    {
        var feed = new TruckFeed(34);
        feed.Idle(300).Neutral(20).Pull(140).Neutral(60).Idle(300);
        feed.Flow = 1.15 / 60;
        feed.Neutral(20).Pull(140).Neutral(60).Idle(300);

        Assert.Equal([null, CheckRefusal.TooFast], RunDeriverTests.Derive(feed).Select(r => r.FirstPumpDown!.Refusal));
    }

    [Fact]
    public void PumpDownOfAJob_IsNoCheck()
    {
        var feed = new TruckFeed(35);
        feed.Idle(300).Neutral(20).Pull(1200).Neutral(60).Idle(30);

        Assert.Equal(CheckRefusal.WorkFollows, Assert.Single(RunDeriverTests.Derive(feed)).FirstPumpDown!.Refusal);
    }

    [Theory]
    [InlineData(290, null)]
    [InlineData(150, CheckRefusal.CutShort)]
    public void HighYard_WhereTheSettingIsNearTheUltimate(double pullS, CheckRefusal? refusal)
    {
        // A new pump at 1 610 m: 83.4 kPa of air, an ultimate of 75 kPa, and a valve that lifts at 70.4 kPa.
        var feed = new TruckFeed(36) { AmbientKPa = 83.4, BaroKPa = 83.4, Flow = 0.0113, Leak = 0.0113 * 0.112, ReliefKPa = 70.4 };
        feed.Missing.Remove(Signal.Baro);
        feed.Idle(300).Neutral(20).Pull(pullS).Neutral(60).Idle(30);
        var set = new ServiceRecord { At = Register.Fitted, Truck = "T01", MeterH = 100, Kind = ServiceKind.ReliefVacuumSet, Value = 71.1, Unit = "kPa" };

        Assert.Equal(refusal, Assert.Single(RunDeriverTests.Derive(feed, set)).FirstPumpDown!.Refusal);
    }

    [Fact]
    public void StandardError_LearnsHowFarTheTrucksChecksDiffer()
    {
        const double Sd = 0.025;
        var noise = new Noise(37);
        var feed = new TruckFeed(37) { NoiseKPa = 0.08 };
        feed.Idle(300);
        for (var i = 0; i < 45; i++)
        {
            // Within what a partly full tank would stand out by.
            var factor = Math.Exp(Math.Clamp(noise.Normal(Sd), -0.05, 0.04));
            feed.Flow = factor / 60;
            feed.Leak = factor * 0.06 / 60;
            feed.Neutral(20).Pull(140).Neutral(60).Idle(300);
        }

        var checks = RunDeriverTests.Derive(feed).Select(r => r.FirstPumpDown!).Where(p => p.IsStartUpCheck).ToArray();

        Assert.InRange(checks[0].NetFlowPerVolumeSe / checks[0].NetFlowPerVolumePerS, 0.01, 0.02);
        Assert.InRange(checks[^1].NetFlowPerVolumeSe / checks[^1].NetFlowPerVolumePerS, 0.7 * Sd, 1.4 * Sd);
        Assert.True(checks[^1].FlowPerVolumeSe / checks[^1].FlowPerVolumePerS < 0.5 * Sd);
    }

    [Fact]
    public void FlowIsBroughtToRatedSpeed()
    {
        var slow = new TruckFeed(31) { SpeedRpm = 1080, NoiseKPa = 0 };
        slow.Idle(300).Neutral(20).Pull(180).Idle(10);

        var pumpDown = Assert.Single(RunDeriverTests.Derive(slow)).FirstPumpDown!;

        Assert.Equal(slow.Flow * 0.9, pumpDown.FlowPerVolumePerS, 1e-6);
        Assert.Equal(slow.Flow - (slow.Leak * 40 / 61.325), pumpDown.NetFlowPerVolumePerS, 2e-5);
    }
}
