using System.Collections.Immutable;
using System.Text.Json;
using Microsoft.Extensions.Time.Testing;
using Vanehour.Fleet;
using Vanehour.Host.Composition;
using Vanehour.Models.Findings;

namespace Vanehour.Host.Tests;

/// <summary>What people say of findings on the command line.</summary>
public sealed class FindingMarkTests : IDisposable
{
    private static readonly DateTimeOffset Now = new(2026, 5, 4, 12, 0, 0, TimeSpan.Zero);
    private static readonly ImmutableArray<RankedCause> Causes =
        [new(Cause.OilLeak, 0.4), new(Cause.OilFeedHigh, 0.3), new(Cause.OilWrongOrThinned, 0.2), new(Cause.SensorWrong, 0.1)];

    private readonly CommandLine cli = new() { Time = new FakeTimeProvider(Now) };

    public void Dispose() => cli.Dispose();

    [Fact]
    public async Task Close_KeepsCauseInstantNameAndNote()
    {
        Keep(Make("aa11"));
        var (code, output, _) = await cli.RunAsync("findings", "close", "aa11", "--cause", "oilfeedhigh", "--by", "Ann", "--note", "set back to 6 drops");

        Assert.Equal((ExitCode.Done, "Closed aa11 (OilUseHigh on T1): OilFeedHigh was found, named in place 2 of 4.\n"), (code, output));
        var kept = Assert.Single(Kept());
        Assert.Equal((FindingStatus.Closed, Now, FindingClosing.Person), (kept.Status, kept.Closed, kept.Closing));
        Assert.Equal((Cause.OilFeedHigh, false, "Ann", "set back to 6 drops"), (kept.CauseFound, kept.NothingFound, kept.ClosedBy, kept.Note));
    }

    [Fact]
    public async Task Close_NothingWrong_IsKeptApartFromACauseThatNobodyNamed()
    {
        Keep(Make("aa11"));
        var (code, output, _) = await cli.RunAsync("findings", "close", "aa", "--cause", "None");

        Assert.Equal((ExitCode.Done, "Closed aa11 (OilUseHigh on T1): nothing was found.\n"), (code, output));
        var kept = Assert.Single(Kept());
        Assert.Null(kept.CauseFound);
        Assert.True(kept.NothingFound && kept.HasVerdict);
    }

    [Fact]
    public async Task Close_WhatTheDataClosed_KeepsItsInstant()
    {
        var closed = Make("aa11") with { Status = FindingStatus.Closed, Closed = Now.AddDays(-2), Closing = FindingClosing.Data, Note = "the data no longer shows it" };
        Keep(closed);
        Assert.Equal(ExitCode.Done, (await cli.RunAsync("findings", "close", "aa11", "--cause", "SensorWrong")).Code);

        var kept = Assert.Single(Kept());
        Assert.Equal((Now.AddDays(-2), FindingClosing.Data, Cause.SensorWrong), (kept.Closed, kept.Closing, kept.CauseFound));
    }

    [Theory]
    [InlineData("There is no finding 9;", "close", "9", "--cause", "OilLeak")]
    [InlineData("2 findings begin with aa: aa11, aa22; give more of it.", "close", "aa", "--cause", "OilLeak")]
    [InlineData("'Oil' is not a cause; the causes are OilLineChoked, ", "close", "aa11", "--cause", "Oil")]
    [InlineData("'3' is not a cause;", "close", "aa11", "--cause", "3")]
    [InlineData("Finding cc33 is already closed with what was found: OilLeak (by Bo).", "close", "cc33", "--cause", "OilFeedHigh")]
    [InlineData("Finding cc33 is already closed;", "acknowledge", "cc33")]
    [InlineData("There is no finding x;", "acknowledge", "x")]
    [InlineData("The id is empty;", "acknowledge", "")]
    public async Task WhatCannotBeDone_IsOneSentenceAndOne(string sentence, params string[] args)
    {
        Finding[] findings =
        [
            Make("aa11"),
            Make("aa22"),
            Make("cc33") with { Status = FindingStatus.Closed, Closed = Now, CauseFound = Cause.OilLeak, ClosedBy = "Bo" },
        ];
        Keep(findings);
        var before = JsonSerializer.Serialize(Kept());
        var (code, output, error) = await cli.RunAsync(["findings", .. args]);

        Assert.Equal((ExitCode.Failed, string.Empty), (code, output));
        Assert.StartsWith(sentence, error, StringComparison.Ordinal);
        Assert.Equal(1, error.Count(c => c == '\n'));
        Assert.Equal(before, JsonSerializer.Serialize(Kept()));
    }

    [Theory]
    [InlineData("close", "aa11")]
    [InlineData("close", "--cause", "OilLeak")]
    [InlineData("acknowledge")]
    [InlineData("--scored", "--all")]
    public async Task WrongUsage_IsTwo(params string[] args) => Assert.Equal(ExitCode.WrongUsage, (await cli.RunAsync(["findings", .. args])).Code);

    [Fact]
    public async Task Acknowledge_SaysByWhom()
    {
        Keep(Make("aa11"));
        var (code, output, _) = await cli.RunAsync("findings", "acknowledge", "AA1", "--by", "Ann", "--note", "Friday");

        Assert.Equal((ExitCode.Done, "Acknowledged aa11 (OilUseHigh on T1).\n"), (code, output));
        var kept = Assert.Single(Kept());
        Assert.Equal((FindingStatus.Acknowledged, "Ann", "Friday"), (kept.Status, kept.AcknowledgedBy, kept.Note));
    }

    [Fact]
    public async Task Scored_CountsByKind_WorkedByHand()
    {
        Finding[] findings =
        [
            Found("a1", Cause.OilLeak),
            Found("a2", Cause.OilWrongOrThinned),
            Found("a3", Cause.SensorWrong),
            Found("a4", Cause.HoseLiningInlet),
            Found("a5", null),
            Make("a6") with { Status = FindingStatus.Closed, Closed = Now, Closing = FindingClosing.Data },
            Make("a7"),
            Found("b1", null) with { Kind = FindingKind.RunningHot },
        ];
        Keep(findings);
        var (code, output, _) = await cli.RunAsync("findings", "--scored", "--csv");

        Assert.Equal(ExitCode.Done, code);
        Assert.Equal(
            """
            kind,judged,nothing_found,nothing_found_share,cause_found,first,first_share,in_first_three,in_first_three_share,not_judged
            OilUseHigh,5,1,0.2,4,1,0.25,2,0.5,1
            RunningHot,1,1,1,0,0,,0,,0
            all,6,2,0.3333333333,4,1,0.25,2,0.5,1

            """,
            output);
        using var json = JsonDocument.Parse((await cli.RunAsync("findings", "--scored", "--json")).Out);
        var all = json.RootElement[2];
        Assert.Equal(JsonValueKind.Null, all.GetProperty("kind").ValueKind);
        Assert.Equal(0.5, all.GetProperty("in_first_three_share").GetDouble());
        Assert.Equal(JsonValueKind.Null, json.RootElement[1].GetProperty("first_share").ValueKind);
        Assert.Contains("Ranked first", (await cli.RunAsync("findings", "--scored")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Scored_WithoutClosedFindings_SaysHowToCloseOne()
    {
        Keep(Make("a1"));
        Assert.Contains("findings close ID", (await cli.RunAsync("findings", "--scored")).Out, StringComparison.Ordinal);
        Assert.Equal("[]\n", (await cli.RunAsync("findings", "--scored", "--json")).Out);
    }

    private static Finding Found(string id, Cause? cause) => Make(id).Closed(new Verdict(cause, null, null), Now);

    private static Finding Make(string id) => OilUseHighFinding.Make(id, Now.AddDays(-9), Causes);

    private void Keep(params Finding[] findings)
    {
        using var data = DataFolder.Open(cli.Data);
        new FindingBook(data.Findings).Save(findings);
    }

    private IReadOnlyList<Finding> Kept()
    {
        using var data = DataFolder.Open(cli.Data);
        return new FindingBook(data.Findings).All();
    }
}
