using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Runs;

namespace Vanehour.Models.Tests.Runs;

public class RunDeriverTests
{
    [Fact]
    public void OneEngagement_IsOneRunWithItsFeatures()
    {
        var feed = new TruckFeed(1);
        feed.Idle(10).Neutral(60).Pull(3600).Idle(10);

        var run = Assert.Single(Derive(feed));

        Assert.Equal("T01", run.Truck);
        Assert.Equal(feed.Samples.First(s => s[Signal.Pto] == 1).At, run.Start);
        Assert.Equal(run.Start.AddSeconds(3660), run.End);
        Assert.Equal(3660 / 3600.0, run.HoursH, 0.0101);
        Assert.Equal(run.HoursH, run.MeterEndH!.Value - run.MeterStartH!.Value, 1e-9);
        AssertNotes(run);
        Assert.Equal(1, run.Quality.Coverage, 1e-9);
        Assert.Equal(732, run.Quality.Samples);
        Assert.Equal(61.4, run.VacuumMaxKPa!.Value, 0.5);

        // 18 inHg is 60.95 kPa: the relief at 61 holds it above about half the time, noise deciding.
        Assert.InRange(run.MinutesAboveVacuumLimit!.Value, 15, 57);
        Assert.Null(run.PressureMaxKPa);
        Assert.Equal(15, run.AmbientMeanC!.Value, 0.1);
        Assert.Equal(1200, run.SpeedMeanRpm!.Value, 2.0);
        Assert.Equal(0, run.SpeedOutsideShare);
        Assert.Equal(0.3, run.OilRateLPerH!.Value, 0.005);
        Assert.Equal(101.325, run.BaroKPa);
        Assert.InRange(run.PumpTempMaxC!.Value, 74, 76.5);
    }

    [Fact]
    public void TemperatureRise_IsThatAfterWarmUp()
    {
        var feed = new TruckFeed(2);
        feed.Idle(10).Neutral(3600).Idle(5);

        var run = Assert.Single(Derive(feed));

        // tau 600 s from 0 to 60 K: the mean of 60 (1 - exp(-t/600)) from 600 s to 3600 s.
        var expected = 60 * (1 - (600.0 / 3000 * (Math.Exp(-1) - Math.Exp(-6))));
        Assert.Equal(expected, run.TempRiseK!.Value, 0.3);
        Assert.Null(Assert.Single(Derive(new TruckFeed(2).Idle(10).Neutral(420).Idle(5))).TempRiseK);
    }

    [Fact]
    public void TimeWeightedMean_WeighsByTimeNotBySamples()
    {
        var samples = new[] { At(0, 1, 0), At(10, 1, 20), At(70, 1, 40), At(80, 0, 0) };

        var run = Assert.Single(Derive(samples));

        Assert.Equal(((10 * 0) + (60 * 20) + (10 * 40)) / 80.0, run.VacuumMeanKPa!.Value, 1e-9);
        Assert.Equal(40, run.VacuumMaxKPa);
        Assert.Equal(80 / 3600.0, run.HoursH, 1e-9);
        Assert.Contains(RunNote.MeterMissing, run.Quality.Notes);
        Assert.Contains(RunNote.SpeedMissing, run.Quality.Notes);
    }

    [Fact]
    public void SilenceUpToTenMinutes_IsBridgedWhereTheMeterAgrees()
    {
        var feed = new TruckFeed(3);
        feed.Idle(5).Neutral(600);
        Drop(feed, 8);
        feed.Neutral(600).Idle(5);

        var run = Assert.Single(Derive(feed));

        AssertNotes(run, RunNote.GapBridged);
        Assert.Equal(28 / 60.0, run.HoursH, 0.011);
        Assert.Equal((20 + 2) / 28.0, run.Quality.Coverage, 0.01);
    }

    [Fact]
    public void SilenceThatTheMeterContradicts_SplitsTheRun()
    {
        var feed = new TruckFeed(4);
        feed.Idle(5).Neutral(600).Silence(8).Neutral(600).Idle(5);

        var runs = Derive(feed);

        Assert.Equal(2, runs.Count);
        AssertNotes(runs[0], RunNote.EndNotHeard);
        AssertNotes(runs[1]);
        Assert.Equal(10 / 60.0, runs[0].HoursH, 0.011);
    }

    [Fact]
    public void LongerSilence_EndsTheRunAtTheLastSampleHeard()
    {
        var feed = new TruckFeed(5);
        feed.Idle(5).Neutral(600);
        var last = feed.Samples[^1].At;
        Drop(feed, 11);
        feed.Neutral(600).Idle(5);

        var runs = Derive(feed);

        Assert.Equal(2, runs.Count);
        Assert.Equal(last, runs[0].End);
        AssertNotes(runs[0], RunNote.EndNotHeard);
    }

    [Fact]
    public void RunInProgress_EndsAtTheLastSampleHeard()
    {
        var feed = new TruckFeed(6);
        feed.Idle(5).Neutral(600);

        Assert.Equal(feed.Samples[^1].At, Assert.Single(Derive(feed)).End);
    }

    [Theory]
    [InlineData(-50)]
    [InlineData(3)]
    public void MeterThatJumps_GivesWayToTheClock(double jumpH)
    {
        var feed = new TruckFeed(7);
        feed.Idle(5).Neutral(900);
        feed.MeterH += jumpH;
        feed.Neutral(900).Idle(5);

        var run = Assert.Single(Derive(feed));

        Assert.Contains(RunNote.MeterDisagrees, run.Quality.Notes);
        Assert.Equal(0.5, run.HoursH, 1e-9);
    }

    [Fact]
    public void CoarseMeter_CountsInLongRunsAndNotInShortOnes()
    {
        var feed = new TruckFeed(8) { MeterStepH = 0.1, EveryS = 30 };
        feed.MeterH = 100.06;
        feed.Idle(5).Neutral(7200).Idle(20).Neutral(600).Idle(20);

        var runs = Derive(feed);

        Assert.Equal(2, runs.Count);
        Assert.Equal(2.0, runs[0].HoursH, 1e-6);
        Assert.Equal(runs[0].MeterEndH!.Value - runs[0].MeterStartH!.Value, runs[0].HoursH, 1e-9);
        Assert.Equal(600 / 3600.0, runs[1].HoursH, 1e-9);
        Assert.All(runs, r => AssertNotes(r));
    }

    [Theory]
    [InlineData(false, 0.1)]
    [InlineData(true, 0.1)]
    [InlineData(true, 0.01)]
    public void WithoutThePowerTakeOffSignal_SpeedOrMeterTellsTheRun(bool withoutSpeed, double stepH)
    {
        var feed = new TruckFeed(9) { MeterStepH = stepH, EveryS = 20 };
        feed.Missing.Add(Signal.Pto);
        if (withoutSpeed)
        {
            feed.Missing.Add(Signal.PumpSpeed);
        }

        feed.Idle(60).Neutral(60).Pull(3540).Idle(60);
        var truth = new Run
        {
            Truck = "T01",
            Start = DateTimeOffset.FromUnixTimeMilliseconds(feed.Samples[60].UnixMs),
            End = DateTimeOffset.FromUnixTimeMilliseconds(feed.Samples[60].UnixMs).AddHours(1),
            HoursH = 1,
            Quality = new RunQuality(0, 0, []),
        };

        var run = Assert.Single(Derive(feed));

        Assert.Contains(RunNote.PtoInferred, run.Quality.Notes);
        Assert.DoesNotContain(RunNote.EndNotHeard, run.Quality.Notes);
        var slack = TimeSpan.FromHours(withoutSpeed ? stepH : 0.01) + TimeSpan.FromMinutes(1);
        Assert.InRange(run.Start, truth.Start - slack, truth.Start + slack);
        Assert.InRange(run.End, truth.End - slack, truth.End + slack);
        Assert.Equal(1, run.HoursH, slack.TotalHours);
    }

    [Fact]
    public void SpikesAreLeftOutOfTheFeatures()
    {
        var feed = new TruckFeed(10);
        feed.Idle(5).Neutral(60).Pull(600).Idle(5);
        var at = feed.Samples.FindIndex(s => s[Signal.Vacuum] > 60) + 10;
        Change(feed, at, Signal.Vacuum, 95);
        Change(feed, at + 20, Signal.PumpTemp, 200);

        var run = Assert.Single(Derive(feed));

        Assert.Contains(RunNote.SpikesRemoved, run.Quality.Notes);
        Assert.InRange(run.VacuumMaxKPa!.Value, 60, 63);
        Assert.InRange(run.PumpTempMaxC!.Value, 30, 80);
    }

    [Fact]
    public void StuckSensor_IsNoted()
    {
        var feed = new TruckFeed(11);
        feed.Idle(5).Neutral(60).Pull(3600).Idle(5);
        for (var i = 0; i < feed.Samples.Count; i++)
        {
            if (feed.Samples[i][Signal.Vacuum] > 30)
            {
                Change(feed, i, Signal.Vacuum, 33.3);
            }
        }

        Assert.Contains(RunNote.SensorStuck, Assert.Single(Derive(feed)).Quality.Notes);
    }

    [Fact]
    public void OilCounterThatIsReset_StillCounts()
    {
        var feed = new TruckFeed(12) { OilLPerH = 1 };
        feed.Idle(5).Neutral(3600).Idle(5);
        var middle = feed.Samples.Count / 2;
        for (var i = middle; i < feed.Samples.Count; i++)
        {
            Change(feed, i, Signal.OilUsed, Math.Max(feed.Samples[i][Signal.OilUsed]!.Value - 20.2, 0));
        }

        var run = Assert.Single(Derive(feed));

        Assert.Contains(RunNote.OilRefilled, run.Quality.Notes);
        Assert.Equal(1, run.OilUsedL!.Value, 0.01);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(3)]
    public void OilLevel_GivesTheDrawWithRefillsTakenOut(double refillL)
    {
        var noise = new Noise(13);
        var feed = new TruckFeed(13);
        feed.Missing.Add(Signal.OilUsed);
        feed.Idle(5).Neutral(7200).Idle(5);
        for (var i = 0; i < feed.Samples.Count; i++)
        {
            var hours = Math.Max(feed.Samples[i].UnixMs - feed.Samples[5].UnixMs, 0) / 3_600_000.0;
            var level = 5 - (0.5 * hours) + (hours > 1.2 ? refillL : 0) + noise.Normal(0.1);
            Change(feed, i, Signal.OilLevel, level);
        }

        var run = Assert.Single(Derive(feed));

        Assert.Equal(refillL > 0, run.Quality.Notes.Contains(RunNote.OilRefilled));
        Assert.Equal(1.0, run.OilUsedL!.Value, 0.06);
    }

    [Fact]
    public void SpeedIsJudgedUnderLoadOnly()
    {
        var feed = new TruckFeed(14) { SpeedRpm = 1500 };
        feed.Idle(5).Neutral(1800).Pull(1800).Idle(5);

        var run = Assert.Single(Derive(feed));

        Assert.Equal(1500, run.SpeedMeanRpm!.Value, 3.0);
        Assert.Equal(1, run.SpeedOutsideShare!.Value, 0.01);
    }

    [Fact]
    public void StuckPowerTakeOff_IsCutAfterADay()
    {
        var feed = new TruckFeed(15) { EveryS = 60 };
        feed.Neutral(50 * 3600);

        var runs = Derive(feed);

        Assert.Equal(3, runs.Count);
        Assert.Equal(TimeSpan.FromHours(24), runs[0].End - runs[0].Start);
        Assert.Equal(runs[0].End, runs[1].Start);
    }

    [Fact]
    public void AnotherTrucksSample_IsRefused()
    {
        var deriver = new RunDeriver(Register.Context(), []);

        Assert.Throws<ArgumentException>(() => deriver.Push(new Sample("T02", 1, SignalValues.Empty), []));
    }

    internal static List<Run> Derive(TruckFeed feed, params ServiceRecord[] records) => Derive(feed.Samples, records);

    internal static List<Run> Derive(IEnumerable<Sample> samples, params ServiceRecord[] records)
    {
        var deriver = new RunDeriver(Register.Context(records), []);
        var runs = new List<Run>();
        foreach (var sample in samples)
        {
            deriver.Push(sample, runs);
        }

        deriver.Finish(runs);
        return runs;
    }

    private static void AssertNotes(Run run, params RunNote[] notes) => Assert.Equal<RunNote>(notes, run.Quality.Notes.ToArray());

    /// <summary>The pump goes on for some minutes that are not heard.</summary>
    private static void Drop(TruckFeed feed, double minutes)
    {
        var heard = feed.Samples.Count;
        feed.Neutral(minutes * 60);
        feed.Samples.RemoveRange(heard, feed.Samples.Count - heard);
    }

    private static void Change(TruckFeed feed, int at, Signal signal, double value)
    {
        var sample = feed.Samples[at];
        var values = sample.Values;
        values.Set(signal, value);
        feed.Samples[at] = sample with { Values = values };
    }

    private static Sample At(int s, double pto, double vacuumKPa)
    {
        var values = SignalValues.Empty;
        values.Set(Signal.Pto, pto);
        values.Set(Signal.Vacuum, vacuumKPa);
        return new Sample("T01", Register.Fitted.ToUnixTimeMilliseconds() + (s * 1000L), values);
    }
}
