using System.Text;
using Vanehour.Fleet;
using Vanehour.Ingest.Payloads;
using Vanehour.Store.Rejects;

namespace Vanehour.Ingest.Tests.Payloads;

public class SampleDecoderTests
{
    private const long ArrivedMs = 1_767_340_900_000;

    private readonly List<Sample> samples = [];
    private readonly RejectSheet rejects = new();
    private DecodeTally tally;

    [Fact]
    public void DocumentedExample_MakesTwoSamples()
    {
        // The pack printed in the description of the feed.
        Decode("""
            [{"bn":"T07/","bt":1767340800,"n":"pto_hours","u":"h","v":4312.41},
             {"n":"pto","vb":true},
             {"n":"vacuum","u":"inHg","v":16.2},
             {"n":"pump_temp","u":"Cel","v":86.5},
             {"n":"ambient_temp","u":"Cel","v":11.0},
             {"n":"pump_speed","u":"1/min","v":1180},
             {"n":"oil_used","u":"l","v":512.31},
             {"n":"vacuum","u":"inHg","t":2,"v":16.6}]
            """);

        Assert.Empty(rejects.Rejects);
        Assert.Equal(new DecodeTally(2, 8, 0, 0, 0), tally);
        Assert.Equal(("T07", 1767340800000, 1767340802000), (samples[0].Truck, samples[0].UnixMs, samples[1].UnixMs));
        Assert.Equal(4312.41, samples[0][Signal.PtoHours]);
        Assert.Equal(1, samples[0][Signal.Pto]);
        Assert.Equal(16.2 * 3.386388640341, samples[0][Signal.Vacuum]!.Value, 1e-9);
        Assert.Equal(86.5, samples[0][Signal.PumpTemp]);
        Assert.Equal(1180, samples[0][Signal.PumpSpeed]);
        Assert.Equal(512.31, samples[0][Signal.OilUsed]);
        Assert.Null(samples[0][Signal.Pressure]);
        Assert.Equal(16.6 * 3.386388640341, samples[1][Signal.Vacuum]!.Value, 1e-9);
        Assert.Null(samples[1][Signal.PumpTemp]);
    }

    [Fact]
    public void RecordsOfOneInstant_InAnyOrder_MakeOneSample_TheLaterRecordWinning()
    {
        Decode("""
            [{"n":"vacuum","u":"kPa","t":1767340800,"v":50},
             {"n":"vacuum","u":"kPa","t":1767340801,"v":51},
             {"n":"pump_temp","u":"Cel","t":1767340800,"v":80},
             {"n":"vacuum","u":"kPa","t":1767340800.0004,"v":52}]
            """);

        Assert.Equal(2, samples.Count);
        Assert.Equal((1767340800000, 52d, 80d), (samples[0].UnixMs, samples[0][Signal.Vacuum], samples[0][Signal.PumpTemp]));
    }

    [Theory]
    [InlineData("1767340800.0004", 1767340800000)]
    [InlineData("1767340800.0005", 1767340800001)]
    [InlineData("1767340800.9996", 1767340801000)]
    [InlineData("1767340800.123", 1767340800123)]
    public void Instants_AreRoundedToAMillisecond(string time, long expectedMs)
    {
        Decode($$"""[{"n":"vacuum","u":"kPa","t":{{time}},"v":50}]""");

        Assert.Equal(expectedMs, Assert.Single(samples).UnixMs);
    }

    [Theory]
    [InlineData("vacuum", "Pa", 50000, 50)]
    [InlineData("vacuum", "hPa", 500, 50)]
    [InlineData("vacuum", "kPa", 50, 50)]
    [InlineData("vacuum", "inHg", 10, 33.86388640341)]
    [InlineData("pressure", "psi", 10, 68.94757293168362)]
    [InlineData("baro", "hPa", 1013.25, 101.325)]
    [InlineData("pump_temp", "Cel", 20, 20)]
    [InlineData("pump_temp", "K", 293.15, 20)]
    [InlineData("ambient_temp", "degF", 68, 20)]
    [InlineData("pump_speed", "1/min", 1180, 1180)]
    [InlineData("pump_speed", "1/s", 20, 1200)]
    [InlineData("pump_speed", "rpm", 1180, 1180)]
    [InlineData("oil_used", "l", 10, 10)]
    [InlineData("oil_used", "m3", 0.01, 10)]
    [InlineData("oil_used", "qt", 4, 3.785411784)]
    [InlineData("oil_level", "gal", 1, 3.785411784)]
    [InlineData("pto_hours", "h", 10, 10)]
    [InlineData("pto_hours", "min", 600, 10)]
    [InlineData("pto_hours", "s", 36000, 10)]
    [InlineData("pto_hours", "ms", 36000000, 10)]
    public void Units_AreConvertedToTheCanonicalOne(string signal, string unit, double value, double expected)
    {
        Decode(FormattableString.Invariant($$"""[{"n":"{{signal}}","u":"{{unit}}","t":1767340800,"v":{{value}}}]"""));

        Assert.Empty(rejects.Rejects);
        Assert.Equal(expected, samples[0][SignalInfo.Find(signal)!.Signal]!.Value, 1e-9);
    }

    [Theory]
    [InlineData("vacuum", "Cel")]
    [InlineData("vacuum", "h")]
    [InlineData("vacuum", "cfm")]
    [InlineData("vacuum", "bar")]
    [InlineData("vacuum", "kpa")]
    [InlineData("pump_temp", "kPa")]
    [InlineData("pump_temp", "degC")]
    [InlineData("pump_speed", "Hz")]
    [InlineData("pump_speed", "beat/min")]
    [InlineData("oil_used", "L")]
    [InlineData("oil_used", "kg")]
    [InlineData("pto_hours", "1/s")]
    [InlineData("pto_hours", "a unit with a very long name that no table can hold")]
    public void UnitOfAnotherKind_IsWrongUnit(string signal, string unit)
    {
        Decode($$"""[{"n":"{{signal}}","u":"{{unit}}","t":1767340800,"v":10}]""");

        AssertReject(RejectReason.WrongUnit, "record 0, u:");
    }

    [Theory]
    [InlineData("\"vb\":true", 1)]
    [InlineData("\"vb\":false", 0)]
    [InlineData("\"v\":1", 1)]
    [InlineData("\"v\":0.0", 0)]
    [InlineData("\"v\":1,\"u\":\"/\"", 1)]
    public void Pto_IsTrueFalseOrOneZero(string value, double expected)
    {
        Decode($$"""[{"n":"pto","t":1767340800,{{value}}}]""");

        Assert.Empty(rejects.Rejects);
        Assert.Equal(expected, samples[0][Signal.Pto]);
    }

    [Theory]
    [InlineData("\"v\":0.5", RejectReason.OutOfRange)]
    [InlineData("\"v\":2", RejectReason.OutOfRange)]
    [InlineData("\"v\":1,\"u\":\"h\"", RejectReason.WrongUnit)]
    [InlineData("\"vs\":\"on\"", RejectReason.InvalidRecord)]
    [InlineData("\"s\":1", RejectReason.InvalidRecord)]
    public void Pto_OfAnythingElse_IsRefused(string value, RejectReason reason)
    {
        Decode($$"""[{"n":"pto","t":1767340800,{{value}}}]""");

        AssertReject(reason, "record 0");
    }

    [Theory]
    [InlineData("vacuum", "kPa", -5, 105)]
    [InlineData("pressure", "kPa", -5, 700)]
    [InlineData("pump_temp", "Cel", -60, 400)]
    [InlineData("ambient_temp", "Cel", -60, 400)]
    [InlineData("pump_speed", "rpm", 0, 5000)]
    [InlineData("oil_level", "l", 0, 200)]
    [InlineData("oil_used", "l", 0, 1000000)]
    [InlineData("pto_hours", "h", 0, 1000000)]
    public void Values_AreTakenUpToTheLimitsOfTheSensor(string signal, string unit, double lowest, double highest)
    {
        Decode(FormattableString.Invariant($$"""
            [{"bn":"{{signal}}","bu":"{{unit}}","bt":1767340800,"v":{{lowest}}},
             {"t":1,"v":{{highest}}},
             {"t":2,"v":{{lowest - 0.001}}},
             {"t":3,"v":{{highest + 0.001}}}]
            """));

        Assert.Equal(2, samples.Count);
        Assert.Equal([RejectReason.OutOfRange, RejectReason.OutOfRange], rejects.Rejects.Select(r => r.Reason));
    }

    [Fact]
    public void MissingUnit_IsRefused() => AssertRecord("""{"n":"vacuum","t":1767340800,"v":1}""", RejectReason.MissingUnit, "record 0, u:");

    [Fact]
    public void TextForANumber_IsRefused() => AssertRecord("""{"n":"vacuum","u":"kPa","t":1767340800,"vs":"1"}""", RejectReason.InvalidRecord, "record 0, v:");

    [Fact]
    public void NullForANumber_IsRefused() => AssertRecord("""{"n":"vacuum","u":"kPa","t":1767340800,"v":null}""", RejectReason.NotFinite, "record 0, v:");

    [Fact]
    public void ValueThatOverflowsInConversion_IsRefused() =>
        AssertRecord("""{"n":"oil_used","u":"m3","t":1767340800,"v":1e306}""", RejectReason.NotFinite, "record 0, v:");

    [Fact]
    public void TimeBefore2000_IsTooOld()
    {
        Decode("""[{"n":"pto","t":946684800,"vb":true},{"n":"pto","t":946684799.999,"vb":true}]""");

        Assert.Single(samples);
        Assert.Equal(RejectReason.TooOld, Assert.Single(rejects.Rejects).Reason);
    }

    [Fact]
    public void TimeAheadOfTheClock_IsTakenUpToTenMinutes()
    {
        // Arrival is 1767340900. The last is a gateway that sends milliseconds.
        Decode("""[{"n":"pto","t":1767341500,"vb":true},{"n":"pto","t":1767341500.001,"vb":true},{"n":"pto","t":1767340800000,"vb":true}]""");

        Assert.Single(samples);
        Assert.Equal([RejectReason.InFuture, RejectReason.InFuture], rejects.Rejects.Select(r => r.Reason));
    }

    [Fact]
    public void RelativeTime_IsRefused() => AssertRecord("""{"n":"pto","vb":true}""", RejectReason.RelativeTime, "record 0, t:");

    [Fact]
    public void RelativeTime_IsTakenWhereSettingsAdmitIt()
    {
        Decode("""[{"n":"pto","vb":true},{"n":"pto","t":-1.5,"vb":false}]""", limits: new DecodeLimits { AdmitRelativeTime = true });

        Assert.Equal([ArrivedMs, ArrivedMs - 1500], samples.Select(s => s.UnixMs));
    }

    [Fact]
    public void NameOfAnotherTruck_IsAMismatch() => AssertRecord("""{"n":"T08/vacuum","u":"kPa","t":1767340800,"v":1}""", RejectReason.TruckMismatch, "record 0, n:");

    [Fact]
    public void TruckIds_AreCaseSensitive() => AssertRecord("""{"n":"t07/vacuum","u":"kPa","t":1767340800,"v":1}""", RejectReason.TruckMismatch, "record 0, n:");

    [Theory]
    [InlineData("vacum")]
    [InlineData("T07/vacum")]
    [InlineData("Vacuum")]
    [InlineData("T07vacuum")]
    [InlineData("T07/")]
    [InlineData("T08/engine")]
    public void NameThatIsNoSignal_IsUnknown(string name) =>
        AssertRecord($$"""{"n":"{{name}}","u":"kPa","t":1767340800,"v":1}""", RejectReason.UnknownSignal, "record 0, n:");

    [Fact]
    public void VeryLongName_IsUnknown() =>
        AssertRecord($$"""{"n":"{{new string('a', 5000)}}","u":"kPa","t":1767340800,"v":1}""", RejectReason.UnknownSignal, "record 0, n:");

    [Fact]
    public void FeedsOwnNames_AreMappedOrLeftOut()
    {
        var names = new SignalNames(new Dictionary<string, string> { ["can/blower.vac"] = "vacuum", ["engine_rpm"] = "" });
        Decode(
            """
            [{"bt":1767340800,"n":"can/blower.vac","u":"kPa","v":40},
             {"n":"T07/can/blower.vac","u":"kPa","t":1,"v":41},
             {"n":"engine_rpm","u":"1/min","v":1500},
             {"n":"T07/engine_rpm","u":"1/min","v":1500},
             {"n":"vacuum","u":"kPa","t":2,"v":42},
             {"n":"T08/can/blower.vac","u":"kPa","t":3,"v":43}]
            """,
            names);

        Assert.Equal([40d, 41d, 42d], samples.Select(s => s[Signal.Vacuum]!.Value));
        Assert.Equal(2, tally.LeftOut);
        Assert.Equal(RejectReason.TruckMismatch, Assert.Single(rejects.Rejects).Reason);
    }

    [Fact]
    public void NameMappedToNoSignal_IsAProgrammingError() =>
        Assert.Throws<ArgumentException>(() => new SignalNames(new Dictionary<string, string> { ["x"] = "vacum" }));

    [Fact]
    public void GoodRecordsBesideBadOnes_AreTaken()
    {
        Decode("""[{"bt":1767340800,"n":"pto","vb":true},{"n":"vacuum","v":1},{"n":"foo","v":1},{"n":"pump_temp","u":"Cel","v":80}]""");

        Assert.Equal((1d, 80d), (samples[0][Signal.Pto], samples[0][Signal.PumpTemp]));
        Assert.Equal([RejectReason.MissingUnit, RejectReason.UnknownSignal], rejects.Rejects.Select(r => r.Reason));
        Assert.Equal(new DecodeTally(1, 4, 0, 0, 2), tally);
    }

    [Theory]
    [InlineData("""[{"n":"pto","t":1767340800,"vb":true},{"n":"foo","v":1},{"n":"pto","t":1767340801,"vb":true}""", RejectReason.MalformedPayload)]
    [InlineData("""[{"n":"pto","t":1767340800,"vb":true},{"bver":11,"n":"pto","vb":true}]""", RejectReason.UnsupportedVersion)]
    [InlineData("""[{"n":"pto","t":1767340800,"vb":true},{"bx_":1,"n":"pto","vb":true}]""", RejectReason.UnknownMandatoryLabel)]
    public void PackThatIsRefused_LeavesNothingBehind(string json, RejectReason reason)
    {
        samples.Add(new Sample("T01", 1, SignalValues.Empty));
        Decode(json);

        Assert.Equal("T01", Assert.Single(samples).Truck);
        Assert.Equal(reason, Assert.Single(rejects.Rejects).Reason);
        Assert.Equal((0, 1), (tally.Samples, tally.Rejected));
    }

    [Fact]
    public void PayloadOverTheLimit_IsRefused()
    {
        Decode(new string(' ', 100), limits: new DecodeLimits { MaxPayloadBytes = 99 });

        AssertReject(RejectReason.PayloadTooLarge, "pack: 100 bytes");
    }

    [Fact]
    public void RecordsOverTheLimit_AreRefused()
    {
        Decode("""[{"bt":1767340800,"n":"pto","vb":true},{"n":"pto","vb":true}]""", limits: new DecodeLimits { MaxRecords = 1 });

        AssertReject(RejectReason.TooManyRecords, "pack: more than 1 records");
    }

    [Fact]
    public void ManyBadRecordsOfOneReason_AreFoldedIntoOneReject_AndCountedInFull()
    {
        Decode("[" + string.Join(',', Enumerable.Repeat("""{"n":"foo","v":1}""", 1000)) + "]");

        Assert.Equal(RejectSheet.NamedPerReason + 1, rejects.Rejects.Count);
        Assert.StartsWith("996 more records", rejects.Rejects[^1].Detail, StringComparison.Ordinal);
        Assert.Equal(1000, rejects.Counts[(int)RejectReason.UnknownSignal]);
        Assert.Equal(1000, tally.Rejected);
    }

    [Fact]
    public void Rejects_KeepTopicArrivalAndTheFirst4KiB()
    {
        Decode("[{\"n\":\"foo\",\"vs\":\"" + new string('x', 10_000) + "\"}]");

        var reject = Assert.Single(rejects.Rejects);
        Assert.Equal(("fleet/T07/pump", ArrivedMs, Reject.KeptBytes), (reject.Topic, reject.ArrivedMs, reject.Payload.Length));
        Assert.StartsWith("[{\"n\":\"foo\"", Encoding.UTF8.GetString(reject.Payload.Span), StringComparison.Ordinal);
    }

    private void AssertRecord(string record, RejectReason reason, string detail)
    {
        Decode($"[{record}]");
        AssertReject(reason, detail);
    }

    private void AssertReject(RejectReason reason, string detail)
    {
        Assert.Empty(samples);
        var reject = Assert.Single(rejects.Rejects);
        Assert.Equal(reason, reject.Reason);
        Assert.StartsWith(detail, reject.Detail, StringComparison.Ordinal);
        Assert.Equal(1, rejects.Counts[(int)reason]);
    }

    private void Decode(string json, SignalNames? names = null, DecodeLimits? limits = null)
    {
        var payload = Encoding.UTF8.GetBytes(json);
        rejects.Open("fleet/T07/pump", ArrivedMs, payload);
        tally = new SampleDecoder(names ?? SignalNames.Default, limits ?? new DecodeLimits()).Decode("T07", payload, ArrivedMs, samples, rejects);
    }
}
