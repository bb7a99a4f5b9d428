using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Host.Output;

namespace Vanehour.Host.Tests;

public class ListingTests
{
    private static readonly Column<TruckRow>[] Columns =
    [
        new("truck", "Truck", r => r.Truck),
        new("name", "Name", r => r.Name),
        new("meter_h", "Meter, h", r => r.MeterH, "0.0"),
        new("last_heard", "Last heard", r => r.LastHeard),
        new("registered", "Registered", r => r.Registered),
    ];

    private static readonly TruckRow Row = new(
        "T1", "one, \"two\"", null, null, null, 12.345600000000001, null, new DateTimeOffset(2026, 3, 9, 7, 30, 0, TimeSpan.FromHours(-5)), true);

    [Fact]
    public void CsvQuotesAsRfc4180AndKeepsTenDigits() =>
        Assert.Equal(
            "truck,name,meter_h,last_heard,registered\nT1,\"one, \"\"two\"\"\",12.3456,2026-03-09T12:30:00Z,yes\n",
            Write(ListingFormat.Csv, Row));

    [Fact]
    public void CsvNeverStartsAFieldThatASpreadsheetWouldRun() =>
        Assert.Contains("'=HYPERLINK", Write(ListingFormat.Csv, Row with { Name = "=HYPERLINK(1)" }), StringComparison.Ordinal);

    [Fact]
    public void JsonHasTheFixedNamesAndNullForWhatDoesNotExist()
    {
        var row = JsonDocument.Parse(Write(ListingFormat.Json, Row)).RootElement[0];
        Assert.Equal(
            ["truck", "name", "yard", "pump_model", "pump_serial", "meter_h", "hours_since_fitting", "last_heard", "registered"],
            row.EnumerateObject().Select(p => p.Name));
        Assert.Equal(JsonValueKind.Null, row.GetProperty("yard").ValueKind);
    }

    [Fact]
    public void TableShowsRoundedNumbersAndNoControlCharacters()
    {
        var text = Write(ListingFormat.Table, Row with { Name = "a\u001b[31mred" });
        Assert.Contains("12.3", text, StringComparison.Ordinal);
        Assert.DoesNotContain("12.34", text, StringComparison.Ordinal);
        Assert.DoesNotContain('\u001b', text);
    }

    [Fact]
    public void AnEmptyTableSaysWhatToDo() => Assert.Equal("Nothing here.\n", Write(ListingFormat.Table));

    [Fact]
    public void JsonHasNoTailOfBinaryFractions() =>
        Assert.Contains("\"meter_h\": 12.3456,", Write(ListingFormat.Json, Row), StringComparison.Ordinal);

    [Fact]
    public void TableHasNoMinusZeroAndNoBlanksAtTheEndsOfLines()
    {
        var text = Write(ListingFormat.Table, Row with { MeterH = -0.04 });
        Assert.Contains(" 0.0 ", text, StringComparison.Ordinal);
        Assert.DoesNotContain("-0.0", text, StringComparison.Ordinal);
        Assert.All(text.TrimEnd('\n').Split('\n'), line => Assert.Equal(line.TrimEnd(), line.Length == 0 ? "blank line" : line));
    }

    [Fact]
    public void NarrowWindow_LeavesOutWholeColumnsAndSaysWhich_AndCutsNoWord()
    {
        Column<TruckRow>[] columns =
        [
            new("truck", "Truck", r => r.Truck),
            new("name", "What is to be said of it", r => r.Name),
            new("yard", "Yard", r => r.Yard, Rank: 2),
            new("serial", "Pump serial", r => r.PumpSerial, Rank: 1),
            new("last_heard", "Last heard", r => r.LastHeard),
        ];
        var row = Row with { Name = "a sentence that is far too long for one line of the window", Yard = "A-yard-of-a-long-name", PumpSerial = "HA-45586" };
        using var writer = new StringWriter { NewLine = "\n" };

        Listing.WriteTable(writer, [row], columns, 60);

        var lines = writer.ToString().TrimEnd('\n').Split('\n');
        Assert.Equal("A wider window has room for 'Yard' too; --csv and --json give everything.", lines[^1]);
        Assert.All(lines[..^1], line => Assert.True(line.Length <= 60, line));
        Assert.Contains("2026-03-09 12:30Z", writer.ToString(), StringComparison.Ordinal);
        Assert.Contains("HA-45586", writer.ToString(), StringComparison.Ordinal);
        Assert.All("a sentence that is far too long".Split(' '), word => Assert.Contains(word, writer.ToString(), StringComparison.Ordinal));
    }

    [Fact]
    public void WindowTooNarrowForAnything_StillShowsWholeWords()
    {
        using var writer = new StringWriter { NewLine = "\n" };
        Listing.WriteTable(writer, [Row], Columns, 10);
        Assert.Contains("2026-03-09 12:30Z", writer.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0.5199999999999818, 0.52)]
    [InlineData(-4228.500000000001, -4228.5)]
    [InlineData(0, 0)]
    [InlineData(1e-300, 1e-300)]
    [InlineData(123456789012345, 123456789012345)]
    [InlineData(double.NaN, double.NaN)]
    public void SensibleDigits_RoundsToTen(double value, double expected) => Assert.Equal(expected, SensibleDigits.Of(value));

    private static string Write(ListingFormat format, params TruckRow[] rows)
    {
        using var writer = new StringWriter { NewLine = "\n" };
        Listing.Write(writer, format, rows, Columns, (JsonTypeInfo<IReadOnlyList<TruckRow>>)HostJson.Default.IReadOnlyListTruckRow, "Nothing here.");
        return writer.ToString();
    }
}
