using System.Text.Json;
using Microsoft.Extensions.Time.Testing;
using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Host.Composition;
using Vanehour.Host.Tests.Moving;
using Vanehour.Models.Findings;

namespace Vanehour.Host.Tests;

/// <summary>Rounds on the command line, on a truck in Chicago that works an hour each weekday. 2 March 2026 is a Monday.</summary>
public sealed class RoundsTests : IDisposable
{
    private static readonly DateTimeOffset Now = new(2026, 3, 20, 20, 0, 0, TimeSpan.Zero);

    private readonly CommandLine cli = new() { Time = new FakeTimeProvider(Now) };

    public void Dispose() => cli.Dispose();

    [Fact]
    public async Task AFleetThatNeverMarkedARound_IsNotAskedForAny_AndIsToldHow()
    {
        await FillAsync();
        var (code, output, _) = await cli.RunAsync("rounds");
        Assert.Equal(ExitCode.Done, code);
        Assert.Equal(
            """
            No check is due on 1 truck as of 2026-03-20 20:00Z.
            Never marked, and so not asked for: daily on 1 truck, weekly on 1 truck, monthly on 1 truck. Mark a round with 'vanehour rounds done T1 daily --by NAME', and it is asked for from then on.

            """,
            output);
        Assert.Equal("[]\n", (await cli.RunAsync("rounds", "--json")).Out);
        Assert.Contains("T1/flush,T1,North,Weekly,flush,no,NotKept", (await cli.RunAsync("rounds", "--all", "--csv")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Done_IsAServiceRecord_AndTheListingFollows()
    {
        await FillAsync();
        var (code, output, error) = await cli.RunAsync("rounds", "done", "T1", "weekly", "--by", "Ann", "--date", "2026-03-09T17:00", "--note", "mesh was full");
        Assert.True(code == ExitCode.Done, error);

        // 22:00Z: the clocks had gone forward. Five weeks and a day of one hour each.
        Assert.Equal("Marked: weekly on T1 by Ann, at 126.0 h on 2026-03-09 22:00Z.\n", output);
        using (var data = DataFolder.Open(cli.Data))
        {
            var record = Assert.Single(data.Register.ServiceRecords());
            Assert.Equal((ServiceKind.Round, "weekly; by Ann; mesh was full", 126.0), (record.Kind, record.Note, record.MeterH));
        }

        Assert.StartsWith("Already marked", (await cli.RunAsync("rounds", "done", "T1", "weekly", "--by", "Ann", "--date", "2026-03-09T17:00", "--note", "mesh was full")).Out, StringComparison.Ordinal);
        using var json = JsonDocument.Parse((await cli.RunAsync("rounds", "--json")).Out);
        var flush = json.RootElement.EnumerateArray().Single(r => r.GetProperty("check").GetString() == "flush");
        Assert.Equal("T1/flush", flush.GetProperty("key").GetString());
        Assert.Equal(("T1", "North", "Weekly", "Overdue"), (Text(flush, "truck"), Text(flush, "yard"), Text(flush, "round"), Text(flush, "state")));
        Assert.Equal(("2026-03-16T05:00:00Z", "2026-03-16", "Ann", "RoundMark"), (Text(flush, "due_at"), Text(flush, "due_on"), Text(flush, "done_by"), Text(flush, "evidence")));
        Assert.Equal((166.0, 31.0), (flush.GetProperty("due_at_h").GetDouble(), flush.GetProperty("hours_left").GetDouble()));
        Assert.Equal("11 days since it was done, every 7", Text(flush, "because"));
        Assert.NotEmpty(Text(flush, "instruction")!);
        Assert.Contains(flush.GetProperty("cautions").EnumerateArray(), c => c.GetString() == Knowledge.Default.Cautions["LockOut"]);

        var table = (await cli.RunAsync("rounds")).Out;
        Assert.Contains("flush, inlet_filter", table, StringComparison.Ordinal);
        Assert.Contains("not asked for: daily on 1 truck, monthly on 1 truck.", table, StringComparison.Ordinal);
        Assert.Contains("Pump flushed by hand", (await cli.RunAsync("rounds", "--truck", "T1")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task AMark_StandsInTheHistory_WithWho_AndTheSameAgainChangesNothing()
    {
        await FillAsync();
        string[] mark = ["rounds", "done", "T1", "weekly", "--by", "Ann", "--date", "2026-03-09T17:00", "--meter", "126"];
        Assert.Equal(ExitCode.Done, (await cli.RunAsync(mark)).Code);
        Assert.Equal("Already marked: weekly on T1 by Ann, at 126.0 h on 2026-03-09 22:00Z; nothing changed.\n", (await cli.RunAsync(mark)).Out);
        Assert.StartsWith("Marked: weekly on T1 by Bo", (await cli.RunAsync([.. mark[..5], "Bo", .. mark[6..]])).Out, StringComparison.Ordinal);

        var history = await HistoryAsync();
        Assert.Equal([("Added", "Ann"), ("Changed", "Bo")], history.Select(h => (Text(h, "action"), Text(h, "by"))));
        Assert.Equal("weekly; by Bo", Assert.Single(Records()).Note);
    }

    [Fact]
    public async Task AMarkThatWasDeleted_CanBeMadeAgain()
    {
        await FillAsync();
        string[] mark = ["rounds", "done", "T1", "weekly", "--by", "Ann", "--date", "2026-03-09", "--meter", "126"];
        for (var time = 0; time < 3; time++)
        {
            var (code, _, error) = await cli.RunAsync(mark);
            Assert.True(code == ExitCode.Done, error);
            var id = Assert.Single(Records()).RecordId!;
            Assert.Equal(ExitCode.Done, (await cli.RunAsync("record", "delete", id, "--by", "Bo")).Code);
        }

        Assert.Equal(["Added", "Deleted", "Added", "Deleted", "Added", "Deleted"], (await HistoryAsync()).Select(h => Text(h, "action")));
    }

    [Fact]
    public async Task AMeterThatGoesBack_IsRefused_InOneSentence()
    {
        await FillAsync();
        Assert.Equal(ExitCode.Done, (await cli.RunAsync("rounds", "done", "T1", "weekly", "--by", "Ann", "--date", "2026-03-09", "--meter", "126")).Code);
        var (code, output, error) = await cli.RunAsync("rounds", "done", "T1", "weekly", "--by", "Ann", "--date", "2026-03-16T12:00", "--meter", "110");
        Assert.Equal((ExitCode.Failed, string.Empty), (code, output));
        Assert.StartsWith("The meter of T1 would read 110 h on 2026-03-16 12:00 ", error, StringComparison.Ordinal);
        Assert.EndsWith("correct the meter or the date, or record the replaced meter between them.\n", error, StringComparison.Ordinal);
        Assert.Equal(1, error.Count(c => c == '\n'));
        Assert.Single(Records());
    }

    [Fact]
    public async Task Export_WritesEveryCheck_InTheColumnsOfTheListing()
    {
        await FillAsync();
        var csv = (await cli.RunAsync("export", "rounds")).Out;
        Assert.Equal((await cli.RunAsync("rounds", "--all", "--csv")).Out, csv);
        Assert.StartsWith("key,truck,yard,round,check,if_fitted,state,due_at,due_on,", csv, StringComparison.Ordinal);
        Assert.Equal(csv, (await cli.RunAsync("export", "rounds", "T1")).Out);
        var unknown = await cli.RunAsync("export", "rounds", "T9");
        Assert.Equal((ExitCode.Failed, string.Empty), (unknown.Code, unknown.Out));
        Assert.Contains("Truck 'T9' is not registered", unknown.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Calendar_HasADayForEachCheckThatIsKept_UnderTheSameIdentity()
    {
        await FillAsync();
        var file = Path.Combine(cli.Folder, "rounds.ics");
        var none = await cli.RunAsync("rounds", "--calendar", file);
        Assert.Equal((ExitCode.Done, $"0 checks written to {file}.\n"), (none.Code, none.Error));
        Assert.Equal(ExitCode.Done, (await cli.RunAsync("rounds", "done", "T1", "weekly", "--by", "Ann", "--date", "2026-03-09T17:00")).Code);
        await cli.RunAsync("rounds", "--calendar", file);
        var text = await File.ReadAllTextAsync(file);
        Assert.Contains("UID:round-T1~002Fflush@vanehour", text, StringComparison.Ordinal);
        Assert.Contains("DTSTART;VALUE=DATE:20260316", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task TwoRoundsOfOneDay_StayApart()
    {
        await FillAsync();
        foreach (var round in new[] { "daily", "weekly", "Inlet-Filter" })
        {
            Assert.Equal(ExitCode.Done, (await cli.RunAsync("rounds", "done", "T1", round, "--by", "Ann", "--date", "2026-03-19", "--meter", "130")).Code);
        }

        using var data = DataFolder.Open(cli.Data);
        Assert.Equal(["daily; by Ann", "inlet_filter; by Ann", "weekly; by Ann"], data.Register.ServiceRecords().Select(r => r.Note).Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task AFindingPullsForward()
    {
        await FillAsync();
        using (var data = DataFolder.Open(cli.Data))
        {
            new FindingBook(data.Findings).Save([OilUseHighFinding.Make("aa11", Now.AddDays(-1)) with { Kind = FindingKind.RunningHot }]);
        }

        using var json = JsonDocument.Parse((await cli.RunAsync("rounds", "--json")).Out);
        Assert.All(json.RootElement.EnumerateArray(), r => Assert.Equal(("PulledForward", "aa11"), (Text(r, "state"), Text(r, "finding"))));
        Assert.Equal(["oil_level", "flush_kit", "flush", "inlet_filter"], json.RootElement.EnumerateArray().Select(r => Text(r, "check")));
        Assert.Contains("RunningHot since 2026-03-19 (finding aa11)", (await cli.RunAsync("rounds")).Out, StringComparison.Ordinal);
        Assert.Equal("[]\n", (await cli.RunAsync("rounds", "--json", "--as-of", "2026-03-18")).Out);
    }

    [Fact]
    public async Task Settings_AreMinded()
    {
        await FillAsync("""{ "Rounds": { "Expect": true, "Checks": { "flush": { "Off": true }, "inlet_filter": { "Days": 3 } } } }""");
        using var json = JsonDocument.Parse((await cli.RunAsync("rounds", "--all", "--json")).Out);
        Assert.DoesNotContain(json.RootElement.EnumerateArray(), r => Text(r, "check") == "flush");
        Assert.DoesNotContain(json.RootElement.EnumerateArray(), r => Text(r, "state") == "NotKept");
        Assert.Equal(ExitCode.Done, (await cli.RunAsync("rounds", "done", "T1", "weekly", "--by", "Ann", "--date", "2026-03-20")).Code);
        using var after = JsonDocument.Parse((await cli.RunAsync("rounds", "--all", "--json")).Out);
        Assert.Equal("2026-03-23", Text(after.RootElement.EnumerateArray().Single(r => Text(r, "check") == "inlet_filter"), "due_on"));
    }

    [Fact]
    public async Task Sheet_IsAPngForEachTruck()
    {
        await FillAsync();
        var folder = Path.Combine(cli.Folder, "sheets");
        var (code, output, error) = await cli.RunAsync("rounds", "sheet", "--out", folder);
        Assert.True(code == ExitCode.Done, error);
        Assert.Equal($"1 PNG file written to {folder}.\n", output);
        Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G'], (await File.ReadAllBytesAsync(Path.Combine(folder, "rounds-T1.png")))[..4]);
    }

    [Theory]
    [InlineData("'hourly' is no round and no check; on T1 there are daily, weekly, monthly, oil_level, ", "done", "T1", "hourly", "--by", "Ann")]
    [InlineData("Truck 't1' is not registered; did you mean T1?", "done", "t1", "daily", "--by", "Ann")]
    [InlineData("--by is empty;", "done", "T1", "daily", "--by", " ")]
    [InlineData("'9.3.2026' is not a date", "done", "T1", "daily", "--by", "Ann", "--date", "9.3.2026")]
    [InlineData("--date 2026-03-21 lies ahead;", "done", "T1", "daily", "--by", "Ann", "--date", "2026-03-21")]
    [InlineData("--meter must be", "done", "T1", "daily", "--by", "Ann", "--meter", "-1")]
    [InlineData("No truck is in a yard 'South'; there are North.", "--yard", "South")]
    [InlineData("Truck 'T9' is not registered;", "--truck", "T9")]
    [InlineData("Truck 'T9' is not registered;", "sheet", "T9")]
    public async Task WhatCannotBeDone_IsOneSentence_AndChangesNothing(string sentence, params string[] args)
    {
        await FillAsync();
        var (code, output, error) = await cli.RunAsync(["rounds", .. args]);
        Assert.Equal((ExitCode.Failed, string.Empty), (code, output));
        Assert.StartsWith(sentence, error, StringComparison.Ordinal);
        Assert.Equal(1, error.Count(c => c == '\n'));
        using var data = DataFolder.Open(cli.Data);
        Assert.Empty(data.Register.ServiceRecords());
    }

    [Theory]
    [InlineData("""{ "Rounds": { "Checks": { "flsh": { "Days": 3 } } } }""", "There is no check 'flsh'")]
    [InlineData("""{ "Rounds": { "Checks": { "flush": { "Day": 3 } } } }""", "there is no key 'Day'")]
    [InlineData("""{ "Rounds": { "Expect": "often" } }""", "is not true or false")]
    public async Task SettingsThatCannotBeUsed_AreOneSentence(string settings, string expected)
    {
        await FillAsync(settings);
        foreach (var command in new[] { "rounds", "analyse" })
        {
            var (code, _, error) = await cli.RunAsync(command);
            Assert.Equal(ExitCode.Failed, code);
            Assert.StartsWith("The settings section Rounds cannot be used: ", error, StringComparison.Ordinal);
            Assert.Contains(expected, error, StringComparison.Ordinal);
        }
    }

    private IReadOnlyList<ServiceRecord> Records()
    {
        using var data = DataFolder.Open(cli.Data);
        return data.Register.ServiceRecords();
    }

    private async Task<List<JsonElement>> HistoryAsync()
    {
        using var json = JsonDocument.Parse((await cli.RunAsync("record", "history", "--json")).Out);
        return [.. json.RootElement.Clone().EnumerateArray()];
    }

    private static string? Text(JsonElement row, string name) => row.GetProperty(name).GetString();

    private async Task FillAsync(string? settings = null)
    {
        Assert.Equal(ExitCode.Done, (await cli.RunAsync("import", cli.File("pump-models.csv", Register.Models), cli.File("trucks.csv", Register.Trucks))).Code);
        using (var data = DataFolder.Open(cli.Data))
        {
            data.Runs.Replace("T1", DateTimeOffset.UnixEpoch, [.. Runs()], null);
        }

        if (settings is not null)
        {
            await File.WriteAllTextAsync(Path.Combine(cli.Data, "vanehour.json"), settings);
        }
    }

    private static IEnumerable<Run> Runs()
    {
        var meter = 100.0;
        for (var day = new DateTimeOffset(2026, 2, 2, 15, 0, 0, TimeSpan.Zero); day < Now; day = day.AddDays(1))
        {
            if (day.DayOfWeek is not (DayOfWeek.Saturday or DayOfWeek.Sunday))
            {
                yield return new Run { Truck = "T1", Start = day, End = day.AddHours(1), HoursH = 1, MeterStartH = meter, MeterEndH = ++meter, Quality = new RunQuality(100, 1, []) };
            }
        }
    }
}
