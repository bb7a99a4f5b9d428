using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Store.Influx;
using static Vanehour.Store.Tests.Telemetry.Samples;

namespace Vanehour.Store.Tests.Influx;

/// <summary>Lines as InfluxDB's line protocol reference has them (escapes: comma, equals sign and space in tags; quote and backslash in texts).</summary>
public sealed class LineProtocolTests
{
    [Fact]
    public void Sample_HasItsTruckAsTagAndAFieldForEachSignal()
    {
        var sample = At("T1", Start, (Signal.Vacuum, 50), (Signal.PtoHours, 1200.25));

        Assert.Equal($"pump,truck=T1 pto_hours=1200.25,vacuum=50 {Start}\n", new LineProtocol().Sample("pump", sample).ToString());
    }

    [Fact]
    public void Numbers_AreTheSameInEveryCulture_AndComeBackToTheLastBit()
    {
        var before = CultureInfo.CurrentCulture;
        CultureInfo.CurrentCulture = new CultureInfo("de-DE");
        try
        {
            foreach (var value in new[] { 1.5, 1.0 / 3, 1e-300, 1e300, -0.1, 123456789.123456, double.Epsilon })
            {
                var line = new LineProtocol().Begin("m").Field("f", value).End(1).ToString();
                var text = line["m f=".Length..line.LastIndexOf(' ')];
                Assert.DoesNotContain(",", text, StringComparison.Ordinal);
                Assert.DoesNotContain("i", text, StringComparison.Ordinal);
                Assert.Equal(value, double.Parse(text, CultureInfo.InvariantCulture));
            }
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void NumbersThatTheServerWouldDropSilently_AreRefused(double value) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new LineProtocol().Begin("m").Field("f", value));

    [Fact]
    public void NamesTagsAndTexts_AreEscaped()
    {
        var line = new LineProtocol().Begin("a b,c").Tag("t g", "x=y, z").Tag("none", null).Field("f=", "say \"hi\"\\\nthere").Field("gone", (double?)null).End(-5).ToString();

        Assert.Equal("a\\ b\\,c,t\\ g=x\\=y\\,\\ z f\\==\"say \\\"hi\\\"\\\\ there\" -5\n", line);
    }

    [Theory]
    [InlineData("T-01_a.B", "T-01_a.B")]
    [InlineData("%41", "%2541")]
    [InlineData("a b\\", "a%20b%5C")]
    [InlineData("é\n", "%C3%A9%0A")]
    public void TruckIds_BecomeTagsThatNoOtherIdHas(string truck, string tag) => Assert.Equal(tag, InfluxName.ToTag(truck));

    [Fact]
    public void InfluxQl_QuotesAreEscaped()
    {
        Assert.Equal("'it\\'s a \\\\ \\n'", InfluxQl.Text("it's a \\ \n"));
        Assert.Equal("\"a\\\"b\"", InfluxQl.Identifier("a\"b"));
        Assert.Equal("'2026-01-02T08:00:00.001Z'", InfluxQl.Instant(Start + 1));
        Assert.Equal("'1677-09-21T00:12:44.000Z'", InfluxQl.Instant(long.MinValue));
        Assert.Equal("'2262-04-11T23:47:16.000Z'", InfluxQl.Instant(long.MaxValue));
    }
}
