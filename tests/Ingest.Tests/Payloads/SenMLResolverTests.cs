using System.Text;
using Vanehour.Ingest.Payloads;
using Vanehour.Store.Rejects;

namespace Vanehour.Ingest.Tests.Payloads;

/// <summary>The rules of RFC 8428 sections 4 and 5, one by one; each pack is worked by hand.</summary>
public class SenMLResolverTests
{
    private const decimal Now = 1_767_340_900m;

    [Fact]
    public void BaseFields_ApplyToTheirOwnRecordAndThoseAfter_UntilTheyReappear()
    {
        var pack = Resolve("""
            [{"n":"a","u":"x","t":1767340800,"v":1},
             {"bn":"T1/","bt":1767340810,"bu":"Pa","bv":10,"bs":5,"n":"b","v":1},
             {"n":"c","t":2,"s":3,"v":-2},
             {"bn":"T2/","bu":"kPa","n":"d","v":0}]
            """);

        Assert.Null(pack.Refusal);
        Assert.Empty(pack.Faults);
        Assert.Equal(
            [
                new SenMLRecord("a", "x", 1767340800m, SenMLValueKind.Number, 1, null, null, null, null),
                new SenMLRecord("T1/b", "Pa", 1767340810m, SenMLValueKind.Number, 11, null, null, 5, null),
                new SenMLRecord("T2/d", "kPa", 1767340810m, SenMLValueKind.Number, 10, null, null, 5, null),
                new SenMLRecord("T1/c", "Pa", 1767340812m, SenMLValueKind.Number, 8, null, null, 8, null),
            ],
            pack.Records);
    }

    [Fact]
    public void BaseFields_OfZeroAndEmpty_AreResets()
    {
        var pack = Resolve("""
            [{"bn":"T1/","bt":1767340810,"bu":"Pa","n":"a","v":1},
             {"bn":"","bt":0,"bu":"","n":"b","t":1767340811,"v":2}]
            """);

        Assert.Equal("b", pack.Records[1].Name);
        Assert.Equal(1767340811m, pack.Records[1].TimeS);
        Assert.Null(pack.Records[1].Unit);
    }

    [Fact]
    public void BaseTimeAndTime_AddWithoutBinaryRounding()
    {
        // In doubles 1767340800.001 + 0.1 is 1767340800.1009998.
        var pack = Resolve("""[{"bt":1767340800.001,"n":"a","t":0.1,"v":1},{"n":"a","t":1e-3,"v":2}]""");

        Assert.Equal([1767340800.002m, 1767340800.101m], pack.Records.Select(r => r.TimeS));
    }

    [Theory]
    [InlineData("""[{"n":"a","v":1}]""", 0)]
    [InlineData("""[{"n":"a","t":-30,"v":1}]""", -30)]
    [InlineData("""[{"bt":-10,"n":"a","t":-0.5,"v":1}]""", -10.5)]
    [InlineData("""[{"n":"a","t":268435455,"v":1}]""", 268435455)]
    public void Time_BelowTwoToThe28_IsRelativeToArrival(string json, double offsetS)
    {
        Assert.Equal(Now + (decimal)offsetS, Assert.Single(Resolve(json).Records).TimeS);
    }

    [Fact]
    public void Time_OfTwoToThe28_IsAbsolute()
    {
        Assert.Equal(268435456m, Assert.Single(Resolve("""[{"n":"a","bt":268435450,"t":6,"v":1}]""").Records).TimeS);
    }

    [Fact]
    public void OwnUnit_GoesBeforeBaseUnit()
    {
        var pack = Resolve("""[{"bu":"Pa","n":"a","u":"Cel","v":1},{"n":"b","v":1},{"n":"c","u":"","v":1}]""");

        Assert.Equal(["Cel", "Pa", null], pack.Records.Select(r => r.Unit));
    }

    [Fact]
    public void BaseValue_ApplyToNumbersOnly()
    {
        var pack = Resolve("""[{"bv":5,"n":"a","vs":"x"},{"n":"b","vb":true},{"n":"c","vd":"aGk"},{"n":"d","t":1}]""");

        Assert.Empty(pack.Faults);
        Assert.Equal(
            [SenMLValueKind.Text, SenMLValueKind.Flag, SenMLValueKind.Data, SenMLValueKind.Number], pack.Records.Select(r => r.Kind));

        // Section 4.5.4: of base value and value the missing one counts as 0.
        Assert.Equal(5, pack.Records[3].Number);
    }

    [Fact]
    public void Sum_MayStandAlone()
    {
        var record = Assert.Single(Resolve("""[{"n":"a","s":7}]""").Records);

        Assert.Equal((SenMLValueKind.None, 7d), (record.Kind, record.Sum));
    }

    [Fact]
    public void BaseOnlyRecords_AreAcceptedAndCounted()
    {
        var pack = Resolve("""[{"bn":"T1/","bver":10},{"bt":1767340800},{"n":"a","v":1}]""");

        Assert.Equal(2, pack.BaseOnly);
        Assert.Equal("T1/a", Assert.Single(pack.Records).Name);
        Assert.Empty(pack.Faults);
    }

    [Fact]
    public void UpdateTime_IsKept() => Assert.Equal(60m, Assert.Single(Resolve("""[{"n":"a","v":1,"ut":60}]""").Records).UpdateTimeS);

    [Fact]
    public void UnknownLabels_AreIgnored()
    {
        var pack = Resolve("""[{"n":"a","v":1,"x":[1,{"y":2}],"bz":3,"":4,"longlabel":null}]""");

        Assert.Empty(pack.Faults);
        Assert.Single(pack.Records);
    }

    [Fact]
    public void UnknownLabelEndingInUnderscore_RefusesTheRecord()
    {
        AssertFault("""[{"n":"a","v":1},{"n":"b","v":2,"foo_":1},{"n":"c","v":3}]""", 1, RejectReason.UnknownMandatoryLabel, "'foo_'");
    }

    [Fact]
    public void UnknownBaseLabelEndingInUnderscore_RefusesThePack()
    {
        AssertRefusal("""[{"n":"a","v":1},{"n":"b","v":2,"bfoo_":1}]""", RejectReason.UnknownMandatoryLabel);
    }

    [Theory]
    [InlineData("""[{"bver":11,"n":"a","v":1}]""")]
    [InlineData("""[{"n":"a","v":1},{"bver":99999999999,"n":"a","v":1}]""")]
    [InlineData("""[{"bver":"10","n":"a","v":1}]""")]
    [InlineData("""[{"bver":9.5,"n":"a","v":1}]""")]
    [InlineData("""[{"bver":0,"n":"a","v":1}]""")]
    [InlineData("""[{"bver":5,"n":"a","v":1},{"bver":6,"n":"a","v":1}]""")]
    [InlineData("""[{"n":"a","v":1},{"bver":5,"n":"a","v":1}]""")]
    public void Versions_ThatAreUnknownOrMixed_RefuseThePack(string json) => AssertRefusal(json, RejectReason.UnsupportedVersion);

    [Fact]
    public void OlderVersions_AreRead()
    {
        var pack = Resolve("""[{"bver":5,"n":"a","v":1},{"bver":5,"n":"b","v":1}]""");

        Assert.Equal((5, 2), (pack.Version, pack.Records.Count));
    }

    [Theory]
    [InlineData("""{"n":"b","n":"b","v":1}""", "n")]
    [InlineData("""{"n":"b","v":1,"v":1}""", "v")]
    [InlineData("""{"n":"b","v":1,"t":1,"t":2}""", "t")]
    [InlineData("""{"n":"b","v":1,"x":1,"x":2}""", "'x'")]
    [InlineData("""{"n":"b","v":1,"\u006e":"b"}""", "n")]
    [InlineData("""{"n":"b","v":1,"x":1,"\u0078":2}""", "'x'")]
    [InlineData("""{"n":"b","v":1,"vs":"x"}""", "v")]
    [InlineData("""{"n":"b","vb":true,"vd":"aGk"}""", "v")]
    [InlineData("""{"n":"b"}""", "v")]
    [InlineData("""{}""", "v")]
    [InlineData("""{"foo":1}""", "v")]
    [InlineData("""{"v":1}""", "n")]
    [InlineData("""{"n":"","v":1}""", "n")]
    [InlineData("""{"n":"b c","v":1}""", "n")]
    [InlineData("""{"n":"-b","v":1}""", "n")]
    [InlineData("""{"n":"ö","v":1}""", "n")]
    [InlineData("""{"n":5,"v":1}""", "n")]
    [InlineData("""{"n":"\ud800","v":1}""", "n")]
    [InlineData("""{"n":"b","u":{},"v":1}""", "u")]
    [InlineData("""{"n":"b","v":"1"}""", "v")]
    [InlineData("""{"n":"b","v":[1,[2]]}""", "v")]
    [InlineData("""{"n":"b","vs":1}""", "vs")]
    [InlineData("""{"n":"b","vb":1}""", "vb")]
    [InlineData("""{"n":"b","vd":"aGk="}""", "vd")]
    [InlineData("""{"n":"b","vd":"aGkaa"}""", "vd")]
    [InlineData("""{"n":"b","s":"1"}""", "s")]
    [InlineData("""{"n":"b","v":1,"t":"now"}""", "t")]
    [InlineData("""{"n":"b","v":1,"t":1e40}""", "t")]
    [InlineData("""{"n":"b","v":1,"t":1e16}""", "t")]
    [InlineData("""{"n":"b","v":1,"ut":null}""", "ut")]
    [InlineData("""{"n":"b","v":1,"\ud800":1}""", "")]
    [InlineData("""7""", "")]
    [InlineData("""[{"n":"b","v":1}]""", "")]
    public void BadRecord_FailsAlone_NamedByIndexAndField(string record, string field)
    {
        AssertFault($$"""[{"n":"a","v":1},{{record}},{"n":"c","v":3}]""", 1, RejectReason.InvalidRecord, field);
    }

    [Theory]
    [InlineData("1e400")]
    [InlineData("-1e400")]
    [InlineData("null")]
    [InlineData("\"NaN\"")]
    [InlineData("\"-Infinity\"")]
    [InlineData("\"inf\"")]
    public void Value_ThatIsNoFiniteNumber_FailsAlone(string value)
    {
        AssertFault($$"""[{"n":"a","v":1},{"n":"b","v":{{value}}},{"n":"c","v":3}]""", 1, RejectReason.NotFinite, "v");
    }

    [Fact]
    public void Value_ThatOverflowsWithItsBase_FailsAlone()
    {
        AssertFault("""[{"n":"a","v":1},{"bv":1e308,"n":"b","v":1e308},{"bv":0,"n":"c","v":3}]""", 1, RejectReason.NotFinite, "v");
    }

    [Theory]
    [InlineData("\"bn\":7", "bn")]
    [InlineData("\"bt\":\"x\"", "bt")]
    [InlineData("\"bt\":1767340000,\"bt\":1767340001", "bt")]
    [InlineData("\"bu\":[]", "bu")]
    [InlineData("\"bv\":true", "bv")]
    [InlineData("\"bs\":{}", "bs")]
    public void BaseField_ThatCannotBeRead_FailsThoseWhoWouldInheritIt_UntilItReappears(string bad, string field)
    {
        var good = field switch { "bn" => "\"bn\":\"T1/\"", "bt" => "\"bt\":1767340800", "bu" => "\"bu\":\"Pa\"", "bv" => "\"bv\":0", _ => "\"bs\":0" };
        var pack = Resolve($$"""[{"n":"a","v":1},{{{bad}},"n":"b","v":2},{"n":"c","v":3},{{{good}},"n":"d","v":4}]""");

        Assert.Null(pack.Refusal);
        Assert.Equal([(1, field), (2, field)], pack.Faults.Select(f => (f.Record, f.Field)));
        Assert.Equal([1d, 4d], pack.Records.Select(r => r.Number!.Value).Order());
    }

    [Fact]
    public void BadRecord_StillGivesItsGoodBaseFields()
    {
        var pack = Resolve("""[{"bn":"T1/","n":"a","v":"x"},{"n":"b","v":1}]""");

        Assert.Equal("T1/b", Assert.Single(pack.Records).Name);
    }

    [Theory]
    [InlineData("")]
    [InlineData(" ")]
    [InlineData("{}")]
    [InlineData("null")]
    [InlineData("[]")]
    [InlineData("[")]
    [InlineData("""[{"n":"a","v":1}""")]
    [InlineData("""[{"n":"a","v":1},]""")]
    [InlineData("""[{"n":"a","v":NaN}]""")]
    [InlineData("""[{"n":"a","v":01}]""")]
    [InlineData("""[{"n":"a","v":1}] x""")]
    [InlineData("""[{"n":"a","v":1}][]""")]
    [InlineData("""[/* no */{"n":"a","v":1}]""")]
    public void Payload_ThatIsNoArrayOfRecords_RefusesThePack(string json) => AssertRefusal(json, RejectReason.MalformedPayload);

    [Fact]
    public void Payload_ThatIsNotUtf8_RefusesThePack()
    {
        byte[] payload = [.. "[{\"n\":\"a\",\"vs\":\""u8, 0xC3, 0x28, .. "\"}]"u8];

        Assert.Equal(RejectReason.MalformedPayload, SenMLResolver.Resolve(payload, Now).Refusal!.Value.Reason);
    }

    [Fact]
    public void Payload_NestedTooDeep_RefusesThePack()
    {
        AssertRefusal($$"""[{"n":"a","v":1,"x":{{new string('[', 1000)}}{{new string(']', 1000)}}}]""", RejectReason.MalformedPayload);
    }

    [Fact]
    public void ByteOrderMark_IsPassedOver() => Assert.Single(Resolve("\uFEFF[{\"n\":\"a\",\"v\":1}]").Records);

    [Fact]
    public void MoreRecordsThanAllowed_RefuseThePack()
    {
        var json = "[" + string.Join(',', Enumerable.Repeat("""{"n":"a","v":1}""", 4)) + "]";

        Assert.Equal(RejectReason.TooManyRecords, SenMLResolver.Resolve(Encoding.UTF8.GetBytes(json), Now, 3).Refusal!.Value.Reason);
        Assert.Equal(4, SenMLResolver.Resolve(Encoding.UTF8.GetBytes(json), Now, 4).Records.Count);
    }

    [Fact]
    public void Messages_NeverCarryWhatATerminalObeys()
    {
        var pack = Resolve("""[{"n":"a\u001b[2J","v":1},{"n":"b","v":1}]""");

        Assert.DoesNotContain('\u001b', Assert.Single(pack.Faults).ToString());
    }

    [Fact]
    public void Escapes_AreResolved()
    {
        var pack = Resolve("""[{"bn":"T1\/","n":"\u0061","u":"\u0050a","vs":"q\"\u00e4"}]""");

        var record = Assert.Single(pack.Records);
        Assert.Equal(("T1/a", "Pa", "q\"ä"), (record.Name, record.Unit, record.Text));
    }

    private static SenMLPack Resolve(string json) => SenMLResolver.Resolve(Encoding.UTF8.GetBytes(json), Now);

    private static void AssertFault(string json, int record, RejectReason reason, string field)
    {
        var pack = Resolve(json);
        Assert.Null(pack.Refusal);
        var fault = Assert.Single(pack.Faults);
        Assert.Equal((record, reason, field), (fault.Record, fault.Reason, fault.Field));
        Assert.Equal(2, pack.Records.Count);
        Assert.StartsWith($"record {record}", fault.ToString(), StringComparison.Ordinal);
    }

    private static void AssertRefusal(string json, RejectReason reason)
    {
        var pack = Resolve(json);
        Assert.Equal(reason, pack.Refusal?.Reason);
        Assert.Equal(-1, pack.Refusal!.Value.Record);
        Assert.Empty(pack.Records);
        Assert.StartsWith("pack", pack.Refusal.Value.ToString(), StringComparison.Ordinal);
    }
}
