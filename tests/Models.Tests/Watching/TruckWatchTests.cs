using Vanehour.Fleet;
using Vanehour.Models.Findings;
using Vanehour.Models.Tests.Synthetic;
using Vanehour.Models.Watching;

namespace Vanehour.Models.Tests.Watching;

/// <summary>The synthetic pump model allows 62 kPa of vacuum, 100 kPa of pressure (105 with the tolerance) and 150 degrees.</summary>
public sealed class TruckWatchTests
{
    private static readonly WatchOptions Options = new() { VacuumHoldS = 60, PressureHoldS = 30, TemperatureHoldS = 60 };

    private readonly TruckWatch watch = new(new SyntheticFleet([], 1, 1).Model, Options, 1.05);

    [Theory]
    [InlineData(Signal.Vacuum, 62.5, 60, FindingKind.HeldAboveVacuumLimit)]
    [InlineData(Signal.Pressure, 106, 30, FindingKind.PressureAboveLimit)]
    [InlineData(Signal.PumpTemp, 151, 60, FindingKind.RunningHot)]
    public void LongerThanAllowed_IsSeenOnceItIs(Signal signal, double value, int holdS, FindingKind kind)
    {
        Assert.Empty(watch.Take(Held(signal, value, 0, holdS)));
        var seen = Assert.Single(watch.Take(Held(signal, value, holdS + 5, holdS + 5)));
        Assert.Equal((kind, false, At(0), At(holdS + 5), value), (seen.Kind, seen.IsOver, seen.Seen.From, seen.Seen.LastSeen, seen.Seen.Peak));
    }

    [Theory]
    [InlineData(Signal.Vacuum, 62)]
    [InlineData(Signal.Pressure, 105)]
    [InlineData(Signal.PumpTemp, 150)]
    public void AtTheLimit_IsAllowed(Signal signal, double value) => Assert.Empty(watch.Take(Held(signal, value, 0, 600)));

    [Fact]
    public void ValueThatTremblesAboutTheLimit_IsOnePassing()
    {
        var trembling = Enumerable.Range(0, 60).Select(i => Sample(i * 5, (Signal.Vacuum, i % 2 == 0 ? 62.4 : 61.2)));
        var seen = Assert.Single(watch.Take(trembling));
        Assert.Equal((At(0), At(290)), (seen.Seen.From, seen.Seen.LastSeen));
    }

    [Fact]
    public void Back_EndsIt_AndTheNextBeginsAnew()
    {
        Sample[] samples = [.. Held(Signal.Vacuum, 70, 0, 100), Sample(105, (Signal.Vacuum, 50)), .. Held(Signal.Vacuum, 65, 110, 160)];
        var over = Assert.Single(watch.Take(samples));
        Assert.Equal((true, At(100), 70.0), (over.IsOver, over.Seen.LastSeen, over.Seen.Peak));
        var next = Assert.Single(watch.Take(Held(Signal.Vacuum, 65, 165, 175)));
        Assert.Equal((false, At(110), 65.0), (next.IsOver, next.Seen.From, next.Seen.Peak));
    }

    [Fact]
    public void Silence_EndsIt() =>
        Assert.Empty(watch.Take([.. Held(Signal.Vacuum, 70, 0, 50), .. Held(Signal.Vacuum, 70, 50 + 125, 50 + 125 + 50)]));

    [Fact]
    public void PtoOff_IsNoPassing_ThoughTheTankStaysUnderVacuum()
    {
        Assert.Empty(watch.Take([Sample(0, (Signal.Pto, 0)), .. Held(Signal.Vacuum, 70, 5, 300)]));
        Assert.Single(watch.Take([Sample(305, (Signal.Pto, 1)), .. Held(Signal.Vacuum, 70, 310, 400)]));
        Assert.True(Assert.Single(watch.Take([Sample(405, (Signal.Pto, 0))])).IsOver);
    }

    [Fact]
    public void OlderThanTheLatest_IsLeftOut_TheLatestAgainChangesNothing()
    {
        watch.Take(Held(Signal.Vacuum, 70, 0, 100));
        Assert.Equal(At(100), Assert.Single(watch.Take([Sample(40, (Signal.Vacuum, 10))])).Seen.LastSeen);
        Assert.Equal(At(0), Assert.Single(watch.Take([Sample(100, (Signal.Vacuum, 70), (Signal.PumpTemp, 90))])).Seen.From);
    }

    [Fact]
    public void InWhateverPieces_TheSameIsSeen()
    {
        var random = new Random(7);
        Sample[] samples = [.. Enumerable.Range(0, 400).Select(i => Sample(i * 5, (Signal.Vacuum, 62 + (6 * Math.Sin(i / 25.0)) + random.NextDouble())))];
        var whole = watch.Take(samples).Where(s => s.IsOver).ToList();
        var pieces = new TruckWatch(new SyntheticFleet([], 1, 1).Model, Options, 1.05);
        var seen = samples.Chunk(7).SelectMany(c => pieces.Take(c)).Where(s => s.IsOver).ToList();

        Assert.True(whole.Count >= 2);
        Assert.Equal(whole, seen);
    }

    private static IEnumerable<Sample> Held(Signal signal, double value, int fromS, int toS) =>
        Enumerable.Range(0, ((toS - fromS) / 5) + 1).Select(i => Sample(fromS + (i * 5), (signal, value)));

    private static Sample Sample(int second, params (Signal Signal, double Value)[] said)
    {
        var values = SignalValues.Empty;
        foreach (var (signal, value) in said)
        {
            values.Set(signal, value);
        }

        return new Sample("T1", At(second).ToUnixTimeMilliseconds(), values);
    }

    private static DateTimeOffset At(int second) => SyntheticFleet.Begin.AddSeconds(second);
}
