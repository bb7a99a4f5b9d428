using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Runs;

namespace Vanehour.Models.Tests.Runs;

/// <summary>What gateways, sensors and meters do wrong: each is repaired, and the run says so.</summary>
public class RunRepairTests
{
    [Theory]
    [InlineData(9999.0, 0.5)]
    [InlineData(100, 4321)]
    [InlineData(4321, 0)]
    public void MeterThatIsAnotherBetweenRuns_BelongsToTheRunsItWasReadIn(double before, double after)
    {
        var feed = new TruckFeed(41) { MeterH = before };
        feed.Idle(5).Neutral(1800).Idle(10);
        feed.MeterH = after;
        feed.Neutral(1800).Idle(5);

        var runs = RunDeriverTests.Derive(feed.Samples);

        Assert.Equal(2, runs.Count);
        Assert.DoesNotContain(RunNote.MeterDisagrees, runs[0].Quality.Notes);
        Assert.Contains(RunNote.MeterDisagrees, runs[1].Quality.Notes);
        Assert.Equal(before + 0.5, runs[0].MeterEndH!.Value, 0.02);
        Assert.Equal(after, runs[1].MeterStartH!.Value, 0.02);
        Assert.Equal(0.5, runs[1].HoursH, 1e-9);
    }

    [Fact]
    public void MeterThatRollsOverInsideARun_GivesWayToTheClock()
    {
        var feed = new TruckFeed(42) { MeterH = 9999.5 };
        feed.Idle(5).Neutral(3600).Idle(5);
        for (var i = 0; i < feed.Samples.Count; i++)
        {
            Change(feed, i, Signal.PtoHours, Math.Round(feed.Samples[i][Signal.PtoHours]!.Value % 10_000, 4));
        }

        var run = Assert.Single(RunDeriverTests.Derive(feed.Samples));

        Assert.Contains(RunNote.MeterDisagrees, run.Quality.Notes);
        Assert.Equal(1, run.HoursH, 1e-9);
        Assert.Equal(0.5, run.MeterEndH!.Value, 0.02);
    }

    [Fact]
    public void MeterReplacedOvernight_DoesNotSayThatThePumpTurned()
    {
        var feed = new TruckFeed(43);
        feed.Idle(5).Neutral(900).Idle(300);
        feed.MeterH += 50;
        feed.Neutral(20).Pull(140).Neutral(60).Idle(10);

        Assert.True(RunDeriverTests.Derive(feed.Samples)[1].FirstPumpDown!.IsStartUpCheck);
    }

    [Fact]
    public void MeterThatStoodStillAndCaughtUp_DoesNotSayThatThePumpTurned()
    {
        var feed = new TruckFeed(44);
        feed.Idle(5).Neutral(3600).Idle(1);
        var stuck = feed.Samples.Count;
        for (var i = 0; i < stuck; i++)
        {
            Change(feed, i, Signal.PtoHours, 100);
        }

        feed.Silence(300).Neutral(20).Pull(140).Neutral(60).Idle(10);
        var runs = RunDeriverTests.Derive(feed.Samples);

        Assert.Contains(RunNote.MeterDisagrees, runs[0].Quality.Notes);
        Assert.Equal(1, runs[0].HoursH, 1e-9);
        Assert.True(runs[1].FirstPumpDown!.IsStartUpCheck);
    }

    [Theory]
    [InlineData(Signal.Vacuum, 99.5)]
    [InlineData(Signal.Pressure, 400)]
    [InlineData(Signal.PumpTemp, 250)]
    [InlineData(Signal.AmbientTemp, -40)]
    [InlineData(Signal.PumpSpeed, 4000)]
    public void SpikeAtSteadyWork_ChangesNoFeature(Signal signal, double value)
    {
        var clean = Steady(45);
        var spiked = Steady(45);
        Change(spiked, spiked.Samples.Count - 20, signal, value);

        var expected = Assert.Single(RunDeriverTests.Derive(clean.Samples));
        var run = Assert.Single(RunDeriverTests.Derive(spiked.Samples));

        Assert.Contains(RunNote.SpikesRemoved, run.Quality.Notes);
        Assert.DoesNotContain(RunNote.SpikesRemoved, expected.Quality.Notes);
        Assert.Equal(expected.VacuumMeanKPa!.Value, run.VacuumMeanKPa!.Value, 0.1);
        Assert.Equal(expected.VacuumMaxKPa!.Value, run.VacuumMaxKPa!.Value, 0.5);
        Assert.Equal(expected.PressureMaxKPa, run.PressureMaxKPa);
        Assert.Equal(expected.PumpTempMaxC!.Value, run.PumpTempMaxC!.Value, 0.5);
        Assert.Equal(expected.TempRiseK!.Value, run.TempRiseK!.Value, 0.2);
        Assert.Equal(expected.SpeedMeanRpm!.Value, run.SpeedMeanRpm!.Value, 1);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void TemperatureSpikeAtARunsEnd_IsTakenOut(bool first)
    {
        var feed = Steady(46);
        var engaged = Enumerable.Range(0, feed.Samples.Count).Where(i => feed.Samples[i][Signal.Pto] > 0).ToArray();
        Change(feed, first ? engaged[0] : engaged[^1], Signal.PumpTemp, 250);

        var run = Assert.Single(RunDeriverTests.Derive(feed.Samples));

        Assert.Contains(RunNote.SpikesRemoved, run.Quality.Notes);
        Assert.InRange(run.PumpTempMaxC!.Value, 30, 80);
    }

    [Fact]
    public void VacuumAndPressureAtOnce_AreAStuckGauge()
    {
        var feed = Steady(47);
        for (var i = feed.Samples.Count - 30; i < feed.Samples.Count - 20; i++)
        {
            Change(feed, i, Signal.Pressure, 60);
        }

        Assert.Contains(RunNote.SensorStuck, Assert.Single(RunDeriverTests.Derive(feed.Samples)).Quality.Notes);
        Assert.DoesNotContain(RunNote.SensorStuck, Assert.Single(RunDeriverTests.Derive(Steady(47).Samples)).Quality.Notes);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(4)]
    public void OilLevelThatSloshes_IsNoRefill(double refillL)
    {
        for (var seed = 0; seed < 20; seed++)
        {
            var noise = new Noise(seed);
            var feed = new TruckFeed(seed) { EveryS = 30 };
            feed.Missing.Add(Signal.OilUsed);
            feed.Idle(5).Neutral(7200).Idle(5);
            for (var i = 0; i < feed.Samples.Count; i++)
            {
                var hours = Math.Max(feed.Samples[i].UnixMs - feed.Samples[5].UnixMs, 0) / 3_600_000.0;
                Change(feed, i, Signal.OilLevel, 6 - (0.5 * hours) + (hours > 1.2 ? refillL : 0) + noise.Uniform(-0.5, 0.5));
            }

            var run = Assert.Single(RunDeriverTests.Derive(feed.Samples));

            Assert.Equal(refillL > 0, run.Quality.Notes.Contains(RunNote.OilRefilled));

            // A slope through 240 readings with an sd of 0.29 L: 0.065 L over two hours, and about twice that where a refill cuts it in two.
            Assert.Equal(1.0, run.OilUsedL!.Value, refillL > 0 ? 0.45 : 0.25);
        }
    }

    [Fact]
    public void DropOutsOfSingleSignals_MoveNothingByMoreThanTheStepsBetweenReadings()
    {
        for (var seed = 0; seed < 10; seed++)
        {
            var noise = new Noise(seed);
            var clean = Steady(seed);
            var holed = Steady(seed);
            for (var i = 0; i < holed.Samples.Count; i++)
            {
                var values = holed.Samples[i].Values;
                foreach (var signal in Enum.GetValues<Signal>().Where(_ => noise.Below(20) == 0))
                {
                    values.Set(signal, null);
                }

                holed.Samples[i] = holed.Samples[i] with { Values = values };
            }

            holed.Samples.RemoveAll(s => s.Values.IsEmpty);
            var (expected, run) = (Assert.Single(RunDeriverTests.Derive(clean.Samples)), Assert.Single(RunDeriverTests.Derive(holed.Samples)));

            // Both ends may go unsaid once or twice, every 30 s or, idle, every minute.
            Assert.Equal(expected.HoursH, run.HoursH, 3.0 / 60);
            Assert.Equal(expected.OilUsedL!.Value, run.OilUsedL!.Value, 0.03);
            Assert.Equal(expected.VacuumMaxKPa!.Value, run.VacuumMaxKPa!.Value, 1);
            Assert.DoesNotContain(RunNote.MeterDisagrees, run.Quality.Notes);
        }
    }

    [Theory]
    [InlineData("2026-03-08T08:30:00Z", "America/Denver")]
    [InlineData("2026-11-01T07:30:00Z", "America/Denver")]
    [InlineData("2026-03-29T00:20:00Z", "Europe/Berlin")]
    [InlineData("2026-12-31T23:30:00Z", "UTC")]
    public void MidnightsAndClockChanges_AreInstantsLikeAnyOther(string workFrom, string zone)
    {
        var feed = new TruckFeed(48);
        feed.Idle(5).Neutral(20).Pull(140).Neutral(60).Idle(300).Neutral(20).Pull(140).Neutral(7200).Idle(60);
        var expected = RunDeriverTests.Derive(feed.Samples);
        Assert.Equal(2, expected.Count);
        var by = DateTimeOffset.Parse(workFrom, System.Globalization.CultureInfo.InvariantCulture) - expected[1].Start;

        var context = new RunContext(
            Register.Truck() with { TimeZone = zone },
            [],
            new Dictionary<string, PumpModel>(StringComparer.Ordinal) { [Register.Model.Model] = Register.Model },
            new RunSettings());
        var deriver = new RunDeriver(context, []);
        var moved = new List<Run>();
        foreach (var sample in feed.Samples)
        {
            deriver.Push(sample with { UnixMs = sample.UnixMs + (long)by.TotalMilliseconds }, moved);
        }

        deriver.Finish(moved);

        Assert.Equal(
            expected.Select(r => r with { Start = r.Start + by, End = r.End + by, FirstPumpDown = r.FirstPumpDown! with { Start = r.FirstPumpDown.Start + by } }),
            moved);
    }

    [Fact]
    public void ClockSetBackInsideARun_LosesNoMoreThanItWasWrong()
    {
        var feed = new TruckFeed(49) { EveryS = 7 };
        feed.Idle(5).Neutral(3600).Idle(60);
        var middle = feed.Samples[feed.Samples.Count / 3].UnixMs;
        var heard = new SortedDictionary<long, Sample>();
        foreach (var sample in feed.Samples)
        {
            // Five minutes fast, then right: what came after goes between what came before, as a store has it.
            var at = sample.UnixMs < middle ? sample.UnixMs + 300_000 : sample.UnixMs;
            heard[at] = sample with { UnixMs = at };
        }

        var runs = RunDeriverTests.Derive(heard.Values);

        Assert.Equal(1, runs.Sum(r => r.HoursH), (300 + 60) / 3600.0);
    }

    [Fact]
    public void WithoutASpeed_TheCheckStandsAndTheRunSaysSo()
    {
        var feed = new TruckFeed(50);
        feed.Missing.Add(Signal.PumpSpeed);
        feed.Idle(300).Neutral(20).Pull(140).Neutral(60).Idle(5);

        var run = Assert.Single(RunDeriverTests.Derive(feed.Samples));

        Assert.Equal<RunNote>([RunNote.SpeedMissing], run.Quality.Notes.ToArray());
        Assert.True(run.FirstPumpDown!.IsStartUpCheck);
        Assert.Null(run.FirstPumpDown.SpeedRpm);
    }

    /// <summary>Work with a reading every half minute, as gateways sample it.</summary>
    private static TruckFeed Steady(int seed)
    {
        var feed = new TruckFeed(seed) { EveryS = 30 };
        feed.Idle(5).Neutral(90).Pull(3600).Idle(5);
        return feed;
    }

    private static void Change(TruckFeed feed, int at, Signal signal, double value)
    {
        var values = feed.Samples[at].Values;
        values.Set(signal, value);
        feed.Samples[at] = feed.Samples[at] with { Values = values };
    }
}
