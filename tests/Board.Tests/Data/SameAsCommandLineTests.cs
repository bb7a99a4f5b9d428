using System.Net;
using Ical.Net;
using Vanehour.Board.Desk;
using Vanehour.Board.Tests.Running;

namespace Vanehour.Board.Tests.Data;

/// <summary>What programs fetch is what the command line writes for the same folder, byte for byte.</summary>
[Collection(OnDemoFleet.Name)]
public sealed class SameAsCommandLineTests(DemoFleet demo)
{
    [Fact]
    public async Task EveryListingIsTheCommandLines()
    {
        var board = await demo.LookAsync();
        using var visitor = new Visitor(board);
        var commands = Commands();
        Assert.Equal(Enum.GetValues<DeskList>().Select(l => l.ToString().ToLowerInvariant()).Order(), commands.Keys.Order());
        foreach (var (name, command) in commands)
        {
            var question = name == "runs" ? "?truck=T02" : string.Empty;
            using var json = await visitor.GetAsync($"/api/{name}{question}");
            Assert.Equal("application/json; charset=utf-8", json.Content.Headers.ContentType!.ToString());
            Assert.Equal(await CommandLine.RunAsync(board.Folder, [.. command, "--json"]), await json.Content.ReadAsStringAsync());
            using var csv = await visitor.GetAsync($"/tables/{name}.csv{question}");
            Assert.Equal("text/csv; charset=utf-8", csv.Content.Headers.ContentType!.ToString());
            Assert.Equal("attachment", csv.Content.Headers.ContentDisposition!.DispositionType);
            Assert.Equal(await CommandLine.RunAsync(board.Folder, [.. command, "--csv"]), await csv.Content.ReadAsStringAsync());
        }
    }

    [Theory]
    [InlineData("/api/findings?truck=T02", "findings", "T02")]
    [InlineData("/api/records?truck=T02", "record", "list", "T02")]
    [InlineData("/api/rounds?truck=T02", "rounds", "--truck", "T02")]
    [InlineData("/api/trucks?yard=Prairie", "trucks", "--yard", "Prairie")]
    [InlineData("/api/plan?yard=Prairie", "plan", "--yard", "Prairie")]
    public async Task AListingIsKeptToATruckOrYard(string path, params string[] command)
    {
        var board = await demo.LookAsync();
        using var visitor = new Visitor(board);
        var whole = await visitor.TextAsync(path.Split('?')[0]);
        var part = await visitor.TextAsync(path);
        Assert.Equal(await CommandLine.RunAsync(board.Folder, [.. command, "--json"]), part);
        Assert.True(part.Length < whole.Length);
    }

    [Fact]
    public async Task WhatCannotBeListedSaysWhy()
    {
        var board = await demo.LookAsync();
        using var visitor = new Visitor(board);
        foreach (var (path, status, said) in new[]
        {
            ("/api/runs", HttpStatusCode.NotFound, "A truck must be named"),
            ("/api/runs?truck=T99", HttpStatusCode.NotFound, "T99"),
            ("/api/runs?truck=../x", HttpStatusCode.BadRequest, "no truck's id"),
            ("/api/trucks?yard=Nowhere", HttpStatusCode.NotFound, "Nowhere"),
        })
        {
            using var answer = await visitor.GetAsync(path);
            Assert.Equal(status, answer.StatusCode);
            Assert.Equal("application/problem+json", answer.Content.Headers.ContentType!.MediaType);
            Assert.Contains(said, System.Text.RegularExpressions.Regex.Unescape(await answer.Content.ReadAsStringAsync()), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task TheCalendarOfRoundsCanBeReadByAnotherParser()
    {
        var board = await demo.LookAsync();
        using var visitor = new Visitor(board);
        var all = Calendar.Load(await visitor.TextAsync("/calendars/rounds.ics"))!;
        var one = Calendar.Load(await visitor.TextAsync("/calendars/rounds.ics?truck=T02"))!;
        Assert.NotEmpty(one.Events);
        Assert.True(all.Events.Count > one.Events.Count);
        Assert.All(one.Events, e => Assert.Contains("T02", e.Summary!, StringComparison.Ordinal));
    }

    private static Dictionary<string, string[]> Commands() => new(StringComparer.Ordinal)
    {
        ["trucks"] = ["trucks"],
        ["runs"] = ["runs", "T02"],
        ["findings"] = ["findings"],
        ["wear"] = ["wear"],
        ["life"] = ["life"],
        ["compare"] = ["compare"],
        ["models"] = ["models"],
        ["plan"] = ["plan"],
        ["marks"] = ["plan", "marks"],
        ["rounds"] = ["rounds"],
        ["rejects"] = ["rejects"],
        ["records"] = ["record", "list"],
        ["history"] = ["record", "history"],
    };
}
