using System.Text.Json;
using Vanehour.Fleet;
using Vanehour.Host.Composition;
using Vanehour.Models.Findings;
using Vanehour.Models.Planning;
using Vanehour.Models.Tests.Planning;

namespace Vanehour.Host.Tests.Planning;

/// <summary>The plan as listed, explained, drawn and digested.</summary>
public sealed class PlanTests : IDisposable
{
    private readonly PlanRig rig = new();

    public void Dispose() => rig.Dispose();

    [Fact]
    public async Task Json_HasWhatTheFormatSays()
    {
        await rig.FillAsync();
        var jobs = (await rig.Json("plan")).EnumerateArray().ToList();

        Assert.Equal(["T01", "T02", "T03"], jobs.Select(j => j.GetProperty("truck").GetString()).Order(StringComparer.Ordinal));
        Assert.Equal(jobs.Select(Week).Order(StringComparer.Ordinal), jobs.Select(Week));
        foreach (var job in jobs)
        {
            Assert.Matches("^2026-W[0-9]{2}$", Week(job));
            Assert.Equal("P-" + job.GetProperty("truck").GetString(), job.GetProperty("pump_serial").GetString());
            Assert.True(job.GetProperty("expected_cost").GetDouble() > 2500);
            Assert.InRange(job.GetProperty("chance_before").GetDouble(), 0, 0.5);
            Assert.EndsWith(".", job.GetProperty("reason").GetString(), StringComparison.Ordinal);
            Assert.False(job.GetProperty("pinned").GetBoolean());
        }

        // One slot a week in North.
        Assert.NotEqual(Week(jobs.Single(j => j.GetProperty("truck").GetString() == "T01")), Week(jobs.Single(j => j.GetProperty("truck").GetString() == "T02")));
    }

    [Fact]
    public async Task Csv_IsTheTableOfExport_AndKeepsToAYard()
    {
        await rig.FillAsync();
        var csv = await rig.Said("plan", "--csv");

        Assert.StartsWith("week,monday,truck,yard,pump_model,pump_serial,expected_cost,chance_before,chance_of_failure,week_earlier,week_later,swap,pinned,reason\n2026-W", csv, StringComparison.Ordinal);
        Assert.Equal(4, csv.Count(c => c == '\n'));
        Assert.Equal(csv, await rig.Said("export", "plan"));
        var south = await rig.Said("plan", "--csv", "--yard", "South");
        Assert.Contains(",T03,South,", south, StringComparison.Ordinal);
        Assert.Equal(2, south.Count(c => c == '\n'));
        Assert.Equal(south, await rig.Said("export", "plan", "T03", "T04"));
        Assert.StartsWith("No truck is in a yard 'West'; there are North, South.", await rig.Refused("plan", "--yard", "West"), StringComparison.Ordinal);
        Assert.Equal(ExitCode.WrongUsage, (await rig.Cli.RunAsync("export", "plan", "--from", "2026-01-01")).Code);
    }

    [Fact]
    public async Task Table_SaysWhatStandsAroundIt()
    {
        await rig.FillAsync();
        var table = await rig.Said("plan");
        Assert.Contains("3 rebuilds in 26 weeks from 2026-W23, expected cost ", table, StringComparison.Ordinal);
        Assert.Contains("; 1 pump later.", table, StringComparison.Ordinal);
        Assert.Contains("All costs are invented examples", table, StringComparison.Ordinal);
    }

    [Fact]
    public async Task WithNothingDue_OrNothingAnalysed_ItSaysSo()
    {
        await rig.FillAsync(new PlanFleet().With("T01", 95));
        Assert.Contains("No rebuild is due in the 26 weeks from 2026-W23.", await rig.Said("plan"), StringComparison.Ordinal);
        Assert.Equal("[]\n", await rig.Said("plan", "--json"));

        using var bare = new PlanRig();
        Assert.Equal(ExitCode.Done, (await bare.Cli.RunAsync("import", bare.Cli.File("m.csv", Moving.Register.Models), bare.Cli.File("t.csv", Moving.Register.Trucks))).Code);
        Assert.EndsWith("is analysed yet; run 'vanehour analyse' first.\n", await bare.Refused("plan"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Explain_HasEveryWeek_AndSaysWhyATruckHasNone()
    {
        await rig.FillAsync();
        var week = Week((await rig.Json("plan")).EnumerateArray().Single(j => j.GetProperty("truck").GetString() == "T01"));
        var text = await rig.Said("plan", "--explain", "T01");
        Assert.StartsWith("T01, pump P-T01 (Alder 400), North: limit expected about 2026-07-27, 20 PTO h a week", text, StringComparison.Ordinal);
        Assert.Contains($"Planned for {week}. ", text, StringComparison.Ordinal);
        Assert.Single(text.Split('\n'), l => l.Contains("<- planned", StringComparison.Ordinal) && l.Contains(week, StringComparison.Ordinal));
        Assert.Contains("later costs less", await rig.Said("plan", "--explain", "T04"), StringComparison.Ordinal);

        var weeks = (await rig.Json("plan", "--explain", "T01")).EnumerateArray().ToList();
        Assert.Equal(26, weeks.Count);
        Assert.Equal(0, weeks.Single(w => Week(w) == week).GetProperty("more").GetDouble());
        Assert.All(weeks, w => Assert.True(w.GetProperty("cost").GetDouble() > 0));

        Assert.Equal("Truck 't01' is not registered; did you mean T01?\n", await rig.Refused("plan", "--explain", "t01"));
        using (var data = DataFolder.Open(rig.Cli.Data))
        {
            data.Register.Upsert([], [data.Register.Trucks().Single(t => t.Id == "T02") with { InService = false }], []);
        }

        Assert.Equal("T02 is not planned: it is out of service or has no pump on.\n", await rig.Refused("plan", "--explain", "T02"));
    }

    [Fact]
    public async Task Explain_OfATruckNeverHeard_SaysThat()
    {
        await rig.FillAsync(PlanRig.Usual().Change("T03", w => w with { Chances = [], HoursToLimit = null, DateOfLimit = null, HoursPerDay = null, Checks = [new(PlanFleet.Now, 1, 1, 0.01, 0, 0.1, 60, true, null, false)] }));
        Assert.Equal("T03 is not planned: it has not run of late.\n", await rig.Refused("plan", "--explain", "T03"));
    }

    [Fact]
    public async Task Digest_SaysWhatComesFirst_AndWhatWaits()
    {
        await rig.FillAsync(PlanRig.Usual(), null, Findings());
        var text = await rig.Said("plan", "--digest");

        Assert.StartsWith("Week 2026-W23 (from 2026-06-01), by the analysis of 2026-06-01 06:00Z\nStop first:\n  T02: OilUseLow. Look at the oil line.\n     CAUTION: PTO off.\n", text, StringComparison.Ordinal);
        Assert.Contains("Changed since last week (no plan is a week old yet): nothing.\n", text, StringComparison.Ordinal);
        Assert.Contains("Findings that wait:\n  T01: OilUseHigh (Week) since 2026-05-30, f1\n", text, StringComparison.Ordinal);
        Assert.Contains("Not heard:\n  T03, never\n", text, StringComparison.Ordinal);
        Assert.Contains("PTO off, key out and locked out", text, StringComparison.Ordinal);

        var json = await rig.Json("plan", "--digest");
        Assert.Equal("2026-W23", Week(json));
        Assert.Equal("T02", json.GetProperty("stop")[0].GetProperty("truck").GetString());
        Assert.Equal(["f1"], json.GetProperty("waiting").EnumerateArray().Select(w => w.GetProperty("id").GetString()));
        Assert.Equal(["T03"], json.GetProperty("silent").EnumerateArray().Select(w => w.GetProperty("truck").GetString()));
        Assert.Equal(JsonValueKind.Null, json.GetProperty("since").ValueKind);
        Assert.StartsWith("The digest is no table;", await rig.Refused("plan", "--digest", "--csv"), StringComparison.Ordinal);
        Assert.Equal(ExitCode.WrongUsage, (await rig.Cli.RunAsync("plan", "--digest", "--explain", "T01")).Code);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Out_IsAPng(bool isDigest)
    {
        await rig.FillAsync();
        var file = Path.Combine(rig.Cli.Folder, "plan.png");
        string[] args = isDigest ? ["plan", "--digest", "--out", file] : ["plan", "--out", file];
        var (code, _, error) = await rig.Cli.RunAsync(args);
        Assert.Equal((ExitCode.Done, $"Drawn into {file}.\n"), (code, error));
        Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G', 13, 10, 26, 10], (await File.ReadAllBytesAsync(file))[..8]);
    }

    [Fact]
    public async Task Calendar_HasAnEventForEachJob()
    {
        await rig.FillAsync();
        var file = Path.Combine(rig.Cli.Folder, "plan.ics");
        var (code, _, error) = await rig.Cli.RunAsync("plan", "--calendar", file);
        Assert.Equal((ExitCode.Done, $"3 jobs written to {file}.\n"), (code, error));
        var text = await File.ReadAllTextAsync(file);
        Assert.StartsWith("BEGIN:VCALENDAR", text, StringComparison.Ordinal);
        Assert.All(new[] { "T01", "T02", "T03" }, t => Assert.Contains($"UID:rebuild-{t}-P-{t}-20", text, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("""{ "Plan": { "Slots": 2 } }""", "The settings section Plan cannot be used: there is no key 'Slots'")]
    [InlineData("""{ "Plan": { "Costs": { "Towing": 2 } } }""", "The settings section Plan cannot be used: there is no key 'Towing'")]
    [InlineData("""{ "Plan": { "SlotsPerWeek": -1 } }""", "The settings section Plan cannot be used: Slots and spares must be 0 to 1000.")]
    [InlineData("""{ "Plan": { "YardSlots": { "North": -1 } } }""", "The settings section Plan cannot be used: Slots and spares must be 0 to 1000.")]
    [InlineData("""{ "Plan": { "HorizonWeeks": 79 } }""", "The settings section Plan cannot be used: HorizonWeeks must be 1 to 78.")]
    [InlineData("""{ "Plan": { "SlotsPerWeek": "some" } }""", "The settings section Plan cannot be used: 'some' at Plan:SlotsPerWeek is not a whole number.")]
    [InlineData("""{ "Plan": { "Costs": { "Tow": 0, "LostJobs": 0, "DamagedPump": 0, "CleanUp": 0 } } }""", "The settings section Plan cannot be used: A failure must cost more than a planned rebuild")]
    public async Task SettingsThatCannotBeUsed_AreOneSentence(string settings, string sentence)
    {
        await rig.FillAsync(settings: settings);
        Assert.StartsWith(sentence, await rig.Refused("plan"), StringComparison.Ordinal);
        Assert.StartsWith(sentence, await rig.Refused("plan", "block", "2026-W30"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task SettingsThatNameWhatIsNotThere_AreSaid()
    {
        await rig.FillAsync(settings: """{ "Plan": { "YardSlots": { "Soth": 2, "North": 2 }, "Spares": { "Elder 9": 1 }, "NotTogether": [["T01", "T99"]] } }""");
        var text = await rig.Said("plan");
        Assert.Contains("The settings give slots to a yard 'Soth', where no truck is.\n", text, StringComparison.Ordinal);
        Assert.DoesNotContain("'North'", text, StringComparison.Ordinal);
        Assert.Contains("The settings give parts or spares of a pump model 'Elder 9' that is not registered.\n", text, StringComparison.Ordinal);
        Assert.Contains("The settings keep a truck 'T99' apart from others that is not registered.\n", text, StringComparison.Ordinal);
        Assert.DoesNotContain("The settings", await rig.Said("plan", "--json"), StringComparison.Ordinal);
    }

    private static Finding[] Findings() =>
    [
        OilUseHighFinding.Make("f1", PlanFleet.Now.AddDays(-2)) with { Truck = "T01" },
        OilUseHighFinding.Make("f2", PlanFleet.Now.AddDays(-1)) with { Truck = "T02", Kind = FindingKind.OilUseLow, Urgency = Urgency.Stop, Checks = [new Check("Look at the oil line.", "PTO off.")] },
        OilUseHighFinding.Make("f3", PlanFleet.Now.AddDays(-3)) with { Truck = "T03", Kind = FindingKind.FeedSilent, Causes = [new RankedCause(Cause.SensorWrong, 1)] },
        OilUseHighFinding.Make("f4", PlanFleet.Now.AddDays(-3)) with { Truck = "T04", Status = FindingStatus.Acknowledged },
    ];

    private static string Week(JsonElement row) => row.GetProperty("week").GetString()!;

    /// <summary>Clocks tell finer than the instant that an analysis is kept under.</summary>
    [Fact]
    public async Task AnAnalysisOfNow_KeepsItsPlan_AndThePlanIsOfThatAnalysis()
    {
        await rig.FillAsync();
        rig.Time.Advance(TimeSpan.FromDays(7) + TimeSpan.FromTicks(12_345_678));
        await rig.Said("analyse");

        using var data = DataFolder.Open(rig.Cli.Data);
        Assert.Equal(data.Results.LatestAsOf(), new PlanBook(data.Plans).Latest()!.AsOf);
        Assert.Equal(data.RequireAnalysis().AsOf, new PlanBook(data.Plans).Latest()!.AsOf);
    }

    [Fact]
    public async Task CostsOfThePlan_CountInLifeToo_UnlessItSaysOtherwise()
    {
        await rig.FillAsync(settings: """{ "Plan": { "Costs": { "PlannedRebuild": 1000, "Tow": 9000, "LostJobs": 0, "DamagedPump": 0, "CleanUp": 0, "SwapSaves": 0 } } }""");
        await rig.Said("record", "T01", "inlet_filter", "--meter", "100", "--date", "2025-06-20");
        await rig.Said("record", "T01", "rebuild", "--meter", "820", "--date", "2026-05-20");
        Assert.Contains("a failure at 10 of them", await rig.Said("compare"), StringComparison.Ordinal);
        await rig.FillAsync(settings: """{ "Plan": { "Costs": { "PlannedRebuild": 1000, "Tow": 9000, "LostJobs": 0, "DamagedPump": 0, "CleanUp": 0, "SwapSaves": 0 } }, "Life": { "FailureCostRatio": 3 } }""");
        Assert.Contains("a failure at 3 of them", await rig.Said("compare"), StringComparison.Ordinal);
    }
}
