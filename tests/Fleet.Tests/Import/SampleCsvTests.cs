using System.Globalization;
using System.Text;
using Vanehour.Fleet.Import;

namespace Vanehour.Fleet.Tests.Import;

public class SampleCsvTests
{
    private static readonly DateTimeOffset Latest = new(2026, 7, 1, 0, 10, 0, TimeSpan.Zero);

    [Fact]
    public void AGatewaysFileIsReadInItsOwnUnits()
    {
        const string File =
            """
            time,truck,vacuum_inhg,pump_temp_degf,pto_hours_h,pto,oil_used_qt,pump_speed_rpm,baro_hpa,pressure_psi,ambient_temp_k,oil_level_gal
            1767340800,T07,16.2,212,4312.41,1,1,1180,1013.25,10,273.15,1
            2026-01-02T02:00:00.5-06:00,T07,,,,,,,,,,2
            """;
        var (samples, problems) = Read(File);
        Assert.Empty(problems);
        Assert.Equal([1_767_340_800_000, 1_767_340_800_500], samples.Select(s => s.UnixMs));
        var first = samples[0];
        Assert.Equal("T07", first.Truck);

        // NIST SP 811 (2008), appendix B.8: 1 inHg (conventional) = 3.386389 kPa, 1 psi = 6.894757 kPa, 1 US qt = 0.9463529 L, 1 US gal = 3.785412 L.
        Assert.Equal(16.2 * 3.386389, first[Signal.Vacuum]!.Value, 1e-5);
        Assert.Equal(68.94757, first[Signal.Pressure]!.Value, 1e-5);
        Assert.Equal(0.9463529, first[Signal.OilUsed]!.Value, 1e-7);
        Assert.Equal(3.785412, first[Signal.OilLevel]!.Value, 1e-6);
        Assert.Equal(100, first[Signal.PumpTemp]!.Value, 1e-9);
        Assert.Equal(0, first[Signal.AmbientTemp]!.Value, 1e-9);
        Assert.Equal(101.325, first[Signal.Baro]!.Value, 1e-9);
        Assert.Equal(4312.41, first[Signal.PtoHours]);
        Assert.Equal(1, first[Signal.Pto]);
        Assert.Equal(1180, first[Signal.PumpSpeed]);
        Assert.Null(samples[1][Signal.Vacuum]);
    }

    [Theory]
    [InlineData("truck,vacuum_kpa", "time: The column time is missing.")]
    [InlineData("time,vacuum_kpa", "truck: The column truck is missing.")]
    [InlineData("truck,time", "There is no signal's column")]
    [InlineData("truck,time,vacuum_kpa,vacuum_inhg", "vacuum_inhg: Both vacuum_kpa and vacuum_inhg are given")]
    [InlineData("truck,time,vacuum_kpa,vacuum_kpa", "vacuum_kpa: The column appears twice.")]
    [InlineData("truck,time,vacuum_c", "vacuum is given as vacuum_kpa, vacuum_inhg")]
    [InlineData("truck,time,pto_hours", "pto_hours is given as pto_hours_h")]
    [InlineData("truck,time,pto_s", "pto is given as pto.")]
    [InlineData("truck,time,colour", "with the unit as ending")]
    [InlineData("", "The file is empty")]
    public void AHeaderThatCannotBeUsedSaysWhy(string header, string expected)
    {
        var (samples, problems) = Read(header + (header.Length > 0 ? "\nT1,5,5,5\n" : ""));
        Assert.Empty(samples);
        Assert.Contains(problems, p => p.ToString().Contains(expected, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("T 1,1767340800,30,1", "truck", "is no truck's id")]
    [InlineData(",1767340800,30,1", "truck", "A value is needed")]
    [InlineData("T1,,30,1", "time", "A value is needed")]
    [InlineData("T1,2026-01-02T08:00:00,30,1", "time", "with its offset")]
    [InlineData("T1,2026-02-30T08:00:00Z,30,1", "time", "with its offset")]
    [InlineData("T1,yesterday,30,1", "time", "with its offset")]
    [InlineData("T1,946684799.999,30,1", "time", "before the year 2000")]
    [InlineData("T1,1999-12-31T23:59:59Z,30,1", "time", "before the year 2000")]
    [InlineData("T1,2026-07-01T00:10:00.001Z,30,1", "time", "in the future")]
    [InlineData("T1,1767340800000,30,1", "time", "Unix time is in seconds")]
    [InlineData("T1,1767340800,-5.1,1", "vacuum_kpa", "outside vacuum's range of -5 to 105")]
    [InlineData("T1,1767340800,105.1,1", "vacuum_kpa", "outside vacuum's range")]
    [InlineData("T1,1767340800,NaN,1", "vacuum_kpa", "is not a number")]
    [InlineData("T1,1767340800,1e999,1", "vacuum_kpa", "is not a number")]
    [InlineData("T1,1767340800,\"1,5\",1", "vacuum_kpa", "is not a number")]
    [InlineData("T1,1767340800,30,0.5", "pto", "outside pto's range")]
    [InlineData("T1,1767340800,30", null, "The row has 3 fields, the header 4.")]
    public void ABadRowIsNamedByLineAndColumnAndTheOthersAreRead(string row, string? column, string reason)
    {
        var (samples, problems) = Read($"truck,time,vacuum_kpa,pto\nT0,1767340800,30,1\n\n{row}\nT2,1767340800,105,0\n");
        var problem = Assert.Single(problems);
        Assert.Equal((4, column), (problem.Line, problem.Column));
        Assert.Contains(reason, problem.Reason, StringComparison.Ordinal);
        Assert.Equal(["T0", "T2"], samples.Select(s => s.Truck));
    }

    [Fact]
    public void TheLimitOfTheClockIsTheFeedsOwn()
    {
        var (samples, problems) = Read("truck,time,pto\nT1,2026-07-01T00:10:00Z,1\nT1,2000-01-01T00:00:00Z,0\nT1,1767340800.0005,1\n");
        Assert.Empty(problems);
        Assert.Equal([Latest.ToUnixTimeMilliseconds(), 946_684_800_000, 1_767_340_800_001], samples.Select(s => s.UnixMs));
    }

    [Fact]
    public void TextThatCannotBeReadOnFromSomewhereEndsTheFile()
    {
        var (samples, problems) = Read("truck,time,pto\nT1,1767340800,1\nT1,17673\"40801,1\nT1,1767340802,1\n");
        Assert.Single(samples);
        Assert.Contains("Line 3 has a quote inside a field", Assert.Single(problems).Reason, StringComparison.Ordinal);
        (_, problems) = Read([.. "truck,time,pto\nT1,"u8, 0xFF, .. ",1\n"u8]);
        Assert.Contains("not UTF-8", Assert.Single(problems).Reason, StringComparison.Ordinal);
        (samples, problems) = Read([0xEF, 0xBB, 0xBF, .. "truck,time,pto\r\nT1,1767340800,1"u8]);
        Assert.Empty(problems);
        Assert.Single(samples);
    }

    [Fact]
    public void WhatIsWrittenReadsBackToTheLastBit()
    {
        var random = new Random(20261125);
        var samples = Enumerable.Range(0, 20_000).Select(i =>
        {
            var values = SignalValues.Empty;
            foreach (var signal in SignalInfo.All.Where(_ => random.Next(3) > 0))
            {
                var value = signal.Signal == Signal.Pto ? random.Next(2) : signal.Lowest + (random.NextDouble() * (signal.Highest - signal.Lowest));
                values.Set(signal.Signal, random.Next(50) == 0 ? signal.Lowest : value);
            }

            values.Set(Signal.Vacuum, double.Epsilon * random.Next(1, 5));
            return new Sample($"T{i % 7}", 1_767_340_800_000 + random.Next(), values);
        }).ToList();
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        var writer = new SampleCsvWriter(text);
        writer.WriteHeader();
        samples.ForEach(s => writer.Write(s));
        writer.Flush();
        var (read, problems) = Read(text.ToString());
        Assert.Empty(problems);
        Assert.Equal(samples, read);
    }

    [Fact]
    public void TheWrittenColumnsAreTheDocumentedOnes() => Assert.Equal(
        ["pto_hours_h", "pto", "vacuum_kpa", "pressure_kpa", "pump_temp_c", "ambient_temp_c", "pump_speed_rpm", "oil_used_l", "oil_level_l", "baro_kpa"],
        SampleColumn.Canonical.Select(c => c.Name));

    private static (List<Sample> Samples, List<CsvProblem> Problems) Read(string text) => Read(Encoding.UTF8.GetBytes(text));

    private static (List<Sample> Samples, List<CsvProblem> Problems) Read(byte[] bytes)
    {
        var samples = new List<Sample>();
        var problems = new List<CsvProblem>();
        using var reader = new SampleCsvReader("samples.csv", new MemoryStream(bytes), Latest, problems.Add);
        while (reader.Read(out var sample) is var step && step is not (SampleCsvStep.End or SampleCsvStep.Broken))
        {
            if (step == SampleCsvStep.Sample)
            {
                samples.Add(sample);
            }
        }

        return (samples, problems);
    }
}
