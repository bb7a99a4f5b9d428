using Vanehour.Board.Tests.Browsing;
using Vanehour.Board.Tests.Running;

namespace Vanehour.Board.Tests.Looks;

/// <summary>With its script a page shows what is new by itself, but not under the hands of somebody who types.</summary>
[Collection(OnDemoFleet.Name)]
public sealed class ByItselfTests(DemoFleet demo)
{
    // The script asks every 15 s; the pages' own clocks are put forward.
    private const long Interval = 15_000;

    [SkippableFact]
    public async Task WhatAnotherChangedShowsByItself_ButNotWhileSomebodyTypes()
    {
        await using var board = await RunningBoard.StartAsync(demo.Copy());
        await using var looking = await demo.Browser.OpenAsync(board.Address);
        await using var typing = await demo.Browser.OpenAsync(board.Address);
        await looking.Page.Clock.InstallAsync();
        await typing.Page.Clock.InstallAsync();
        await looking.GoAsync("/plan");
        await typing.GoAsync("/plan");
        await typing.Page.Locator("summary", new() { HasText = "Block weeks" }).ClickAsync();
        var note = typing.Page.Locator("form[action='/do/block']").GetByLabel("Why");
        await note.FillAsync("half a sente");
        using var visitor = new Visitor(board);
        using (await visitor.PostAsync("/plan", "/do/block", ("from", "2026-W30"), ("note", "from elsewhere"), ("by", "Ann"), ("back", "/plan")))
        {
        }

        Assert.Equal(0, await looking.Page.Locator("ul.marks").CountAsync());
        await typing.Page.Clock.FastForwardAsync(Interval + 1000);
        await looking.Page.Clock.FastForwardAsync(Interval + 1000);
        await looking.Page.Locator("ul.marks", new() { HasText = "from elsewhere" }).WaitForAsync();
        Assert.EndsWith("/plan", looking.Page.Url, StringComparison.Ordinal);

        // The other window's turn came as well, and it lets be what is typed.
        await Task.Delay(TimeSpan.FromSeconds(1));
        Assert.Equal("half a sente", await note.InputValueAsync());
        Assert.Equal(0, await typing.Page.Locator("ul.marks").CountAsync());
        Assert.True(await note.EvaluateAsync<bool>("e => e === document.activeElement"));
        Assert.Empty(looking.Complaints);
        Assert.Empty(typing.Complaints);
    }

    [SkippableFact]
    public async Task WithoutItsScriptThePageIsWhole()
    {
        var board = await demo.LookAsync();
        await using var with = await demo.Browser.OpenAsync(board.Address);
        await using var without = await demo.Browser.OpenAsync(board.Address, new() { JavaScriptEnabled = false });
        foreach (var path in BoardPages.Of(board.Folder))
        {
            await with.GoAsync(path);
            await without.GoAsync(path);

            // What only the pointer can use is the script's own.
            await with.Page.EvaluateAsync<int>("[...document.querySelectorAll('.readout, .guide')].map(e => e.remove()).length");
            Assert.Equal(await with.Page.Locator("body").InnerTextAsync(), await without.Page.Locator("body").InnerTextAsync());
        }
    }
}
