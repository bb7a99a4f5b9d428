using System.Text.Json;
using Vanehour.Models.Tests.Planning;

namespace Vanehour.Host.Tests.Planning;

/// <summary>Pins and blocks on the command line, and what becomes of them.</summary>
public sealed class PlanMarkTests : IDisposable
{
    private readonly PlanRig rig = new();

    public void Dispose() => rig.Dispose();

    [Fact]
    public async Task Pin_IsKept_ReplacedByASecond_AndTakenOff()
    {
        await rig.FillAsync();
        var free = await WeekOf("T01");
        var said = await rig.Said("plan", "pin", "T01", "2026-W25", "--by", "Ann", "--note", "truck is in anyway");
        Assert.StartsWith($"Pinned T01 to 2026-W25.\nMoved: T01 from {free} to 2026-W25. Pinned by Ann: truck is in anyway.\n", said, StringComparison.Ordinal);
        Assert.Matches("Expected cost of the plan: [0-9]+, before [0-9]+\\.\n", said);
        var job = await JobOf("T01");
        Assert.Equal(("2026-W25", true, "Pinned by Ann: truck is in anyway."), (job.GetProperty("week").GetString(), job.GetProperty("pinned").GetBoolean(), job.GetProperty("reason").GetString()));

        // A day names its week; the second pin of a truck replaces the first.
        Assert.StartsWith("Pinned T01 to 2026-W26.", await rig.Said("plan", "pin", "T01", "2026-06-24"), StringComparison.Ordinal);
        Assert.Equal("2026-W26", await WeekOf("T01"));
        var mark = Assert.Single((await rig.Json("plan", "marks")).EnumerateArray());
        Assert.Equal(("Pin", "T01", "2026-W26"), (mark.GetProperty("kind").GetString(), mark.GetProperty("truck").GetString(), mark.GetProperty("from").GetString()));

        Assert.StartsWith("Took the pin of T01 to 2026-W26 off.\n", await rig.Said("plan", "unpin", "T01"), StringComparison.Ordinal);
        Assert.Equal("[]\n", await rig.Said("plan", "marks", "--json"));
        Assert.False((await JobOf("T01")).GetProperty("pinned").GetBoolean());
        Assert.Equal("T01 is not pinned; see 'vanehour plan marks'.\n", await rig.Refused("plan", "unpin", "T01"));
    }

    [Theory]
    [InlineData("2026-W22 is over; the first week that can be planned is 2026-W23.", "T01", "2026-W22")]
    [InlineData("'2027-W53' is no week; write it as 2027-W05, or a day in it as 2027-02-03.", "T01", "2027-W53")]
    [InlineData("'2026-W00' is no week;", "T01", "2026-W00")]
    [InlineData("'soon' is no week;", "T01", "soon")]
    [InlineData("Truck 'T99' is not registered;", "T99", "2026-W25")]
    [InlineData("T01 cannot be pinned to 2026-W28: 2026-W28 is blocked for North by Ann (holidays).", "T01", "2026-W28")]
    [InlineData("T02 cannot be pinned to 2026-W30: slots, kits or trucks that may not be down together leave no room beside older pins.", "T02", "2026-W30")]
    public async Task PinThatCannotBeKept_IsRefusedWithItsReason(string sentence, params string[] args)
    {
        await rig.FillAsync();
        await rig.Said("plan", "block", "2026-W28", "--yard", "North", "--by", "Ann", "--note", "holidays");
        await rig.Said("plan", "pin", "T01", "2026-W30");
        rig.Time.Advance(TimeSpan.FromMinutes(1));
        Assert.StartsWith(sentence, await rig.Refused(["plan", "pin", .. args]), StringComparison.Ordinal);
        Assert.Equal(2, (await rig.Json("plan", "marks")).GetArrayLength());
        Assert.Equal("2026-W30", await WeekOf("T01"));
    }

    [Fact]
    public async Task Block_KeepsWeeksFree_OfATruckAYardOrAll()
    {
        await rig.FillAsync();
        var (one, other) = (await WeekOf("T01"), await WeekOf("T03"));
        Assert.StartsWith($"Blocked {one} for T01 (mark 1).\n", await rig.Said("plan", "block", one, "--truck", "T01"), StringComparison.Ordinal);
        Assert.NotEqual(one, await WeekOf("T01"));

        Assert.StartsWith("Blocked 2026-W23 to 2026-W40 for South (mark 2).\n", await rig.Said("plan", "block", "2026-W23", "2026-W40", "--yard", "South", "--by", "Bo"), StringComparison.Ordinal);
        Assert.True(string.CompareOrdinal(await WeekOf("T03"), "2026-W40") > 0);
        Assert.True(string.CompareOrdinal(await WeekOf("T01"), "2026-W40") < 0);
        Assert.Matches("Block +2026-W23 +2026-W40 +- +South +Bo ", await rig.Said("plan", "marks"));

        Assert.StartsWith("Took the block of 2026-W23 to 2026-W40 for South off.\n", await rig.Said("plan", "unblock", "2"), StringComparison.Ordinal);
        Assert.Equal(other, await WeekOf("T03"));

        Assert.Contains(" for every yard (mark 3).", await rig.Said("plan", "block", "2026-W23", "2026-W53"), StringComparison.Ordinal);
        Assert.Equal("[]\n", await rig.Said("plan", "--json"));
        Assert.Contains("Due, and no room before 2026-W49: ", await rig.Said("plan"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("No truck is in a yard 'West'; there are North, South.", "block", "2026-W25", "--yard", "West")]
    [InlineData("Truck 'T99' is not registered;", "block", "2026-W25", "--truck", "T99")]
    [InlineData("2026-W24 is before 2026-W25; give the first week first.", "block", "2026-W25", "2026-W24")]
    [InlineData("'2027-W53' is no week;", "block", "2026-W25", "2027-W53")]
    [InlineData("There is no block 7; see 'vanehour plan marks'.", "unblock", "7")]
    [InlineData("There is no block 1; see 'vanehour plan marks'.", "unblock", "1")]
    public async Task BlockThatMakesNoSense_IsOneSentence(string sentence, params string[] args)
    {
        await rig.FillAsync();
        await rig.Said("plan", "pin", "T01", "2026-W25");
        Assert.StartsWith(sentence, await rig.Refused(["plan", .. args]), StringComparison.Ordinal);
        Assert.Equal(1, (await rig.Json("plan", "marks")).GetArrayLength());
    }

    [Fact]
    public async Task YardAndTruckTogether_IsWrongUsage()
    {
        await rig.FillAsync();
        Assert.Equal(ExitCode.WrongUsage, (await rig.Cli.RunAsync("plan", "block", "2026-W25", "--yard", "North", "--truck", "T01")).Code);
    }

    [Fact]
    public async Task AfterARebuild_TheJobIsGone_AndThePinOfTheFormerLifeIsDoneWith()
    {
        await rig.FillAsync();
        await rig.Said("plan", "pin", "T01", "2026-W23", "--by", "Ann");
        rig.Time.Advance(TimeSpan.FromDays(7));
        await rig.Said("record", "T01", "rebuild", "--meter", "820", "--date", "2026-06-04", "--by", "Ann");
        rig.Analysed(PlanFleet.Now.AddDays(7), new PlanFleet().With("T01", 95).With("T02", 9).With("T03", 14, yard: "South").With("T04", 95, yard: "South").Input().Wear);

        Assert.DoesNotContain((await rig.Json("plan")).EnumerateArray(), j => j.GetProperty("truck").GetString() == "T01");
        var calendar = Path.Combine(rig.Cli.Folder, "plan.ics");
        var text = await rig.Said("plan", "--calendar", calendar);
        Assert.Contains("Off the plan: T01, was in 2026-W23. Rebuilt or replaced since.\n", text, StringComparison.Ordinal);
        Assert.DoesNotContain("pin of T01", text, StringComparison.Ordinal);
        Assert.Contains("Changed since 2026-06-01:\n  Off the plan: T01, was in 2026-W23. Rebuilt or replaced since.\n", await rig.Said("plan", "--digest"), StringComparison.Ordinal);

        // Its event is over and was true: it is left alone, neither moved nor cancelled.
        Assert.DoesNotContain("UID:rebuild-T01-", await File.ReadAllTextAsync(calendar), StringComparison.Ordinal);
    }

    private async Task<JsonElement> JobOf(string truck) => (await rig.Json("plan")).EnumerateArray().Single(j => j.GetProperty("truck").GetString() == truck);

    private async Task<string> WeekOf(string truck) => (await JobOf(truck)).GetProperty("week").GetString()!;
}
