using System.Net;
using Microsoft.Data.Sqlite;
using Vanehour.Board.Tests.Browsing;
using Vanehour.Board.Tests.Running;
using Vanehour.Host.Composition;

namespace Vanehour.Board.Tests.Security;

/// <summary>Texts that would do something if a page, a script or a command took them for more than text.</summary>
[Collection(OnDemoFleet.Name)]
public sealed class HostileTextTests(DemoFleet demo)
{
    private static readonly string[] Texts =
    [
        "<script>alert(1)</script>",
        "\"><img src=x onerror=alert(2)>",
        "</title><svg onload=alert(3)>",
        "' onmouseover='alert(4)",
        "@/etc/hostname",
        "--data=/tmp/x",
        "-n",
        "=1+1",
        "{{7*7}} ${7*7}",
    ];

    [SkippableFact]
    public async Task TheyComeOutAsTextAndRunNothing()
    {
        var folder = demo.Copy();
        Register(folder);
        await Refusals.AddAsync(folder);
        await using var board = await RunningBoard.StartAsync(folder);
        await using var window = await demo.Browser.OpenAsync(board.Address);
        using var visitor = new Visitor(board);
        foreach (var text in Texts)
        {
            using var answer = await visitor.PostAsync("/plan", "/do/block", ("from", "2026-W30"), ("truck", "X-1"), ("note", text), ("by", text), ("back", "/plan"));
        }

        await window.GoAsync("/plan");
        var marks = await window.Page.Locator("ul.marks").InnerTextAsync();
        Assert.All(Texts, t => Assert.Contains($", says {t}: {t}.", marks, StringComparison.Ordinal));

        var finding = BoardPages.Of(folder)[7];
        using (await visitor.PostAsync("/plan", "/do/acknowledge", ("id", finding.Split('/')[^1]), ("note", string.Concat(Texts)), ("by", Texts[1])))
        {
        }

        foreach (var path in BoardPages.Of(folder).Concat(["/trucks/X-1", "/rounds?truck=X-1", "/plan/X-1", "/?yard=" + Uri.EscapeDataString(Texts[1])]))
        {
            await window.Page.GotoAsync(path);
            await window.Page.WaitForLoadStateAsync();
            Assert.Equal(1, await window.Page.Locator("script").CountAsync());
            Assert.Equal(0, await window.Page.Locator("img, svg [onload], [onerror], [onmouseover], iframe, object, embed").CountAsync());
            await window.Page.EvaluateAsync<int>("[...document.querySelectorAll('details')].map(d => d.open = true).length");
            Assert.DoesNotContain("\u202E", await window.Page.Locator("main").InnerTextAsync(), StringComparison.Ordinal);
            Assert.True(await window.Page.EvaluateAsync<bool>("document.documentElement.scrollWidth <= document.documentElement.clientWidth"), path);
        }

        await window.GoAsync("/trucks/X-1");
        Assert.Contains(Texts[0], await window.Page.Locator("h1").InnerTextAsync(), StringComparison.Ordinal);

        // The browser notes that a page is not there, and nothing else.
        Assert.DoesNotContain(window.Complaints, c => !c.Contains("404", StringComparison.Ordinal));
    }

    [Fact]
    public async Task ANoteThatLooksLikeAFileOrAnOptionIsKeptAsItIs()
    {
        await using var board = await RunningBoard.StartAsync(demo.Copy());
        using var visitor = new Visitor(board);
        foreach (var text in Texts)
        {
            using var answer = await visitor.PostAsync("/plan", "/do/round", ("truck", "T02"), ("what", "daily"), ("note", text), ("by", "Ann"), ("back", "/rounds"));
            var page = WebUtility.HtmlDecode(await visitor.TextAsync("/rounds"));
            Assert.Contains("arked: daily on T02 by Ann", page, StringComparison.Ordinal);
            using (await visitor.PostAsync("/plan", "/do/block", ("from", "2026-W30"), ("note", text), ("by", "Ann"), ("back", "/plan")))
            {
            }
        }

        using var marks = System.Text.Json.JsonDocument.Parse(await CommandLine.RunAsync(board.Folder, "plan", "marks", "--json"));
        Assert.Equal(Texts, marks.RootElement.EnumerateArray().Select(m => m.GetProperty("note").GetString()!));
        Assert.False(Directory.Exists("/tmp/x"));
    }

    private static void Register(string folder)
    {
        using (var data = DataFolder.Open(folder))
        {
            var like = data.Register.Trucks()[0];
            data.Register.Upsert(
                [],
                [like with { Id = "X-1", Name = Texts[0] + Texts[1] + "\u202Egnp.exe\n" + new string('W', 300), Yard = Texts[1] + "\u202E" + new string('M', 200), PumpSerial = Texts[2] }],
                []);
        }

        SqliteConnection.ClearAllPools();
    }
}
