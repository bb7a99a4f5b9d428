using System.Net;
using System.Text.Json;
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
            ("/api/runs", HttpStatusCode.BadRequest, "A truck must be named"),
            ("/api/findings?truck=--help", HttpStatusCode.NotFound, "'--help'"),
            ("/api/findings?yard=North", HttpStatusCode.BadRequest, "cannot be asked for by yard"),
            ("/api/wear?truck=T01", HttpStatusCode.BadRequest, "cannot be asked for by truck"),
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

    /// <summary>The tables of pages that are no listing of the command line.</summary>
    [Fact]
    public async Task EveryOtherTableHasItsCsvToo()
    {
        var board = await demo.LookAsync();
        using var visitor = new Visitor(board);
        using var findings = JsonDocument.Parse(await visitor.TextAsync("/api/findings"));
        var finding = findings.RootElement[0];

        var causes = (await visitor.TextAsync($"/tables/causes.csv?finding={finding.GetProperty("id").GetString()}")).TrimEnd().Split('\n');
        Assert.Equal("cause,weight,for,against", causes[0]);
        Assert.Equal(finding.GetProperty("causes").EnumerateArray().Select(c => c.GetProperty("cause").GetString()), causes.Skip(1).Select(c => c.Split(',')[0]));

        var feeds = (await visitor.TextAsync("/tables/feeds.csv")).TrimEnd().Split('\n');
        Assert.Equal(13, feeds.Length);
        Assert.All(feeds.Skip(1), line => Assert.EndsWith(",yes", line, StringComparison.Ordinal));

        var trend = (await visitor.TextAsync("/tables/trend.csv?truck=T02")).TrimEnd().Split('\n');
        var runs = await visitor.TextAsync("/tables/runs.csv?truck=T02");
        Assert.StartsWith("week,\"PTO hours, h\",", trend[0], StringComparison.Ordinal);

        // Hours of all weeks shown: those of the runs, but for what the chart's left edge cuts off and for rounding.
        var hours = trend.Skip(1).Sum(l => double.Parse(l.Split(',')[1], System.Globalization.CultureInfo.InvariantCulture));
        var all = runs.TrimEnd().Split('\n').Skip(1).Sum(l => double.Parse(l.Split(',')[3], System.Globalization.CultureInfo.InvariantCulture));
        Assert.InRange(hours, all * 0.9, all + 0.05 * trend.Length);
        using var none = await visitor.GetAsync("/tables/trend.csv?truck=T99");
        Assert.Equal(HttpStatusCode.NotFound, none.StatusCode);
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
