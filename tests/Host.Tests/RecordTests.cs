using System.Text.Json;
using Microsoft.Extensions.Time.Testing;
using Vanehour.Fleet.Runs;
using Vanehour.Host.Composition;

namespace Vanehour.Host.Tests;

/// <summary>Service records on the command line.</summary>
public sealed class RecordTests : IDisposable
{
    private const string Models =
        """
        model,rated_speed_rpm,min_speed_rpm,max_speed_rpm,free_air_cfm,max_vacuum_inhg,max_pressure_psi,max_temperature_degf,flow_kept_limit
        Alder 400,1200,1000,1400,400,20,20,350,0.75
        """;

    private const string Trucks =
        """
        truck,yard,pump_model,pump_serial,pump_fitted,meter_at_fitting_h,tank_gal,time_zone
        T07,North,Alder 400,S-1,2026-01-05,4300,3000,America/Chicago
        T08,North,Alder 400,S-2,2026-01-05,100,3000,America/Chicago
        """;

    private const string Service =
        """
        record_id,date,truck,meter_h,kind,value,unit,note
        r1,2026-03-09,T07,4400,vane_width,57.2,mm,
        r12,2026-03-10,T07,4402,flush,,,
        ,2026-03-11,T07,4404,hose,,,
        """;

    private static readonly DateTimeOffset Now = new(2026, 5, 4, 12, 0, 0, TimeSpan.Zero);
    private readonly FakeTimeProvider time = new(Now);
    private readonly CommandLine cli;

    public RecordTests() => cli = new CommandLine { Time = time };

    public void Dispose() => cli.Dispose();

    [Fact]
    public async Task Rebuild_SaysWhatTheLifeRan_AndIsListed()
    {
        await Import();
        var (code, output, error) = await cli.RunAsync("record", "T07", "rebuild", "--meter", "4512.5", "--date", "2026-04-20T15:00", "--note", "all vanes", "--by", "Ann");

        Assert.Equal((ExitCode.Done, string.Empty), (code, error));
        var lines = output.Split('\n');
        Assert.Matches("^Recorded [0-9a-f]{10}: rebuild of T07 on 2026-04-20 15:00 at 4,512.5 h\\.$", lines[0]);
        Assert.Equal("The life of pump S-1 ended after 212.5 h; a new life starts, and the next analysis takes it up.", lines[1]);
        var row = (await Json("record", "list", "T07", "--kind", "rebuild", "--from", "2026-04-01", "--to", "2026-05-01", "--json"))[0];
        Assert.Equal("2026-04-20T20:00:00Z", row.GetProperty("date").GetString());
        Assert.Equal((4512.5, "rebuild", "all vanes"), (row.GetProperty("meter_h").GetDouble(), row.GetProperty("kind").GetString(), row.GetProperty("note").GetString()));
        Assert.Contains(row.GetProperty("id").GetString()!, lines[0], StringComparison.Ordinal);
    }

    [Fact]
    public async Task EditAndDelete_StandInTheHistory_FieldByField()
    {
        await Import();
        Assert.Equal(ExitCode.Done, (await cli.RunAsync("record", "T07", "rebuild", "--meter", "4512", "--by", "Ann")).Code);
        var id = (await Json("record", "list", "T07", "--kind", "rebuild", "--json"))[0].GetProperty("id").GetString()!;
        time.Advance(TimeSpan.FromHours(1));
        var edited = await cli.RunAsync("record", "edit", id[..6], "--meter", "4510", "--date", "2026-05-01", "--by", "Bo", "--why", "misread");
        time.Advance(TimeSpan.FromHours(1));
        var deleted = await cli.RunAsync("record", "delete", id, "--by", "Cy", "--why", "other truck");

        Assert.Equal((ExitCode.Done, $"Changed {id}: date 2026-05-04T12:00:00Z -> 2026-05-01T05:00:00Z; meter_h 4512 -> 4510.\nThe next analysis reads the pump's lives anew.\n"), (edited.Code, edited.Out));
        Assert.Equal((ExitCode.Done, $"Deleted {id}: rebuild of T07 on 2026-05-01 at 4,510 h.\nThe next analysis reads the pump's lives anew.\n"), (deleted.Code, deleted.Out));
        var history = (await Json("record", "history", "T07", "--json")).EnumerateArray().Skip(3).ToList();
        Assert.Equal([("Added", "Ann", null), ("Changed", "Bo", "misread"), ("Deleted", "Cy", "other truck")], history.Select(h => (Said(h, "action"), Said(h, "by"), Said(h, "why"))));
        Assert.Equal(Now.AddHours(1), history[1].GetProperty("at").GetDateTimeOffset());
        var change = history[1].GetProperty("changes")[1];
        Assert.Equal(("meter_h", "4512", "4510"), (Said(change, "field"), Said(change, "before"), Said(change, "after")));
        Assert.Contains(",Bo,Changed,", (await cli.RunAsync("record", "history", "--csv")).Out, StringComparison.Ordinal);
        Assert.Equal("[]\n", (await cli.RunAsync("record", "list", "--kind", "rebuild", "--json")).Out);
        Assert.Contains("was deleted on 2026-05-04 by Cy", (await cli.RunAsync("record", "delete", id)).Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task TheSameTwice_ChangesNothing()
    {
        await Import();
        string[] args = ["record", "T07", "oil_fill", "--meter", "4450", "--date", "2026-04-01", "--value", "2", "--unit", "qt"];
        Assert.Equal(ExitCode.Done, (await cli.RunAsync(args)).Code);
        time.Advance(TimeSpan.FromDays(1));
        var again = await cli.RunAsync(args);

        Assert.Equal(ExitCode.Done, again.Code);
        Assert.StartsWith("Already recorded as ", again.Out, StringComparison.Ordinal);
        Assert.Equal("Record r1 says so already; nothing changed.\n", (await cli.RunAsync("record", "edit", "r1", "--meter", "4400")).Out);
        Assert.Equal(4, (await Json("record", "history", "--json")).GetArrayLength());
    }

    [Fact]
    public async Task AnImportIsInTheHistory_AndSaysWhatItBroughtBack()
    {
        await Import();
        Assert.Equal(ExitCode.Done, (await cli.RunAsync("record", "delete", "r1")).Code);
        var (code, output, _) = await cli.RunAsync("import", cli.File("service.csv", Service), "--by", "Ann");

        Assert.Equal(ExitCode.Done, code);
        Assert.Contains("1 record that had been deleted", output, StringComparison.Ordinal);
        var last = (await Json("record", "history", "--json")).EnumerateArray().Last();
        Assert.Equal(("Added", "Ann", "service.csv", "r1"), (Said(last, "action"), Said(last, "by"), Said(last, "why"), Said(last, "id")));
        Assert.DoesNotContain("had been", (await cli.RunAsync("import", cli.File("service.csv", Service))).Out, StringComparison.Ordinal);
        Assert.Equal(5, (await Json("record", "history", "--json")).GetArrayLength());
    }

    [Fact]
    public async Task WithoutMeter_TheLastRunsIsTaken_AndAFarOneIsDoubted()
    {
        await Import();
        using (var data = DataFolder.Open(cli.Data))
        {
            var run = new Run
            {
                Truck = "T07",
                Start = Now.AddHours(-5),
                End = Now.AddHours(-4),
                HoursH = 1,
                MeterStartH = 4500,
                MeterEndH = 4501,
                Quality = new RunQuality(30, 1, []),
            };
            data.Runs.Replace("T07", run.Start, [run], null);
        }

        var taken = await cli.RunAsync("record", "T07", "flush");
        Assert.Contains("at 4,501 h.\nThe meter is that of the run that ended on 2026-05-04 03:00: 4,501 h.\n", taken.Out, StringComparison.Ordinal);
        var far = await cli.RunAsync("record", "T07", "gasket", "--meter", "4498", "--date", "2026-05-04T03:30");
        Assert.True(far.Code == ExitCode.Done, far.Error);
        Assert.Contains("Look again at the meter: by telemetry it read 4,501 h", far.Out, StringComparison.Ordinal);
        var unheard = await cli.RunAsync("record", "T08", "flush");
        Assert.Equal((ExitCode.Failed, string.Empty), (unheard.Code, unheard.Out));
        Assert.EndsWith("says what the meter read; give --meter.\n", unheard.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Truck 't07' is not registered; did you mean T07?", "t07", "flush", "--meter", "4400")]
    [InlineData("'polish' is no kind of service record; one of rebuild,", "T07", "polish", "--meter", "4400")]
    [InlineData("A record of kind vane_width needs a value.", "T07", "vane_width", "--meter", "4450")]
    [InlineData("A record of kind vane_width needs its unit, one of mm, in.", "T07", "vane_width", "--meter", "4450", "--value", "57")]
    [InlineData("'yesterday' is not a date", "T07", "flush", "--meter", "4450", "--date", "yesterday")]
    [InlineData("2026-05-05 lies in the future; correct the date.", "T07", "flush", "--meter", "4450", "--date", "2026-05-05")]
    [InlineData("The meter of T07 would read 4390 h on 2026-05-04 07:00 (record ", "T07", "flush", "--meter", "4390", "--date", "2026-05-04T07:00")]
    [InlineData("There is no record nine;", "edit", "nine", "--meter", "1")]
    [InlineData("2 records begin with r: r1, r12; give more of it.", "delete", "r")]
    [InlineData("The id is empty;", "delete", "")]
    [InlineData("Truck 'T9' is not registered;", "edit", "r1", "--truck", "T9")]
    [InlineData("Truck 'T9' is not registered;", "list", "T9")]
    [InlineData("Truck 'T9' is not registered;", "history", "T9")]
    public async Task WhatCannotBeDone_IsOneSentenceAndOne(string sentence, params string[] args)
    {
        await Import();
        var (code, output, error) = await cli.RunAsync(["record", .. args]);

        Assert.Equal((ExitCode.Failed, string.Empty), (code, output));
        Assert.StartsWith(sentence, error, StringComparison.Ordinal);
        Assert.Equal(1, error.Count(c => c == '\n'));
        Assert.Equal(3, (await Json("record", "history", "--json")).GetArrayLength());
    }

    [Theory]
    [InlineData]
    [InlineData("T07")]
    [InlineData("T07", "list")]
    [InlineData("--meter", "4", "list")]
    [InlineData("edit", "r1")]
    [InlineData("delete")]
    [InlineData("T07", "flush", "--meter", "much")]
    [InlineData("T07", "flush", "--meter", "NaN")]
    public async Task WrongUsage_IsTwo(params string[] args)
    {
        await Import();
        Assert.Equal(ExitCode.WrongUsage, (await cli.RunAsync(["record", .. args])).Code);
    }

    private static string? Said(JsonElement row, string name) => row.GetProperty(name).GetString();

    private async Task<JsonElement> Json(params string[] args)
    {
        using var document = JsonDocument.Parse((await cli.RunAsync(args)).Out);
        return document.RootElement.Clone();
    }

    private async Task Import()
    {
        var (code, _, error) = await cli.RunAsync("import", cli.File("models.csv", Models), cli.File("trucks.csv", Trucks), cli.File("service.csv", Service));
        Assert.True(code == ExitCode.Done, error);
    }
}
