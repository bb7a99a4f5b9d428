namespace Vanehour.Fleet.Tests;

public class SampleTests
{
    [Fact]
    public void ValuesMergeWithTheLastWinning()
    {
        var first = SignalValues.Empty;
        first.Set(Signal.Vacuum, 40);
        first.Set(Signal.PumpTemp, 80);
        var later = SignalValues.Empty;
        later.Set(Signal.Vacuum, 41);
        later.Set(Signal.Pto, 1);
        first.Merge(later);
        Assert.Equal(41, first.Get(Signal.Vacuum));
        Assert.Equal(80, first.Get(Signal.PumpTemp));
        Assert.Equal(1, first.Get(Signal.Pto));
        Assert.Null(first.Get(Signal.Baro));
    }

    [Fact]
    public void EmptyIsEmptyAndNaNIsRefused()
    {
        var values = SignalValues.Empty;
        Assert.True(values.IsEmpty);
        Assert.Throws<ArgumentOutOfRangeException>(() => SetVacuum(double.NaN));
        values.Set(Signal.Vacuum, 1);
        Assert.False(values.IsEmpty);
        values.Set(Signal.Vacuum, null);
        Assert.True(values.IsEmpty);

        static void SetVacuum(double value)
        {
            var v = SignalValues.Empty;
            v.Set(Signal.Vacuum, value);
        }
    }

    [Fact]
    public void SamplesWithTheSameMissingSignalsAreEqual()
    {
        var values = SignalValues.Empty;
        values.Set(Signal.Vacuum, 3);
        Assert.Equal(new Sample("T1", 5, values), new Sample("T1", 5, values));
        Assert.NotEqual(new Sample("T1", 5, values), new Sample("T1", 5, SignalValues.Empty));
        Assert.NotEqual(new Sample("T1", 5, values), new Sample("t1", 5, values));
    }

    [Fact]
    public void SignalTableIsInTheOrderOfTheEnum()
    {
        var signals = Enum.GetValues<Signal>();
        Assert.Equal(SignalInfo.Count, signals.Length);
        Assert.All(signals, s => Assert.Equal(s, SignalInfo.Of(s).Signal));
        Assert.Equal(Signal.PumpTemp, SignalInfo.Find("pump_temp")!.Signal);
        Assert.Null(SignalInfo.Find("Vacuum"));
    }

    [Theory]
    [InlineData("T07", true)]
    [InlineData("a.b-c_9", true)]
    [InlineData("", false)]
    [InlineData("T 7", false)]
    [InlineData("T/7", false)]
    [InlineData("Tä", false)]
    public void TruckIdRule(string id, bool valid) => Assert.Equal(valid, TruckId.IsValid(id));

    [Fact]
    public void TruckIdHasAtMost64Characters()
    {
        Assert.True(TruckId.IsValid(new string('x', 64)));
        Assert.False(TruckId.IsValid(new string('x', 65)));
    }
}
