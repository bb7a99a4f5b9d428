using System.Text.Json;
using Vanehour.Board.Tests.Browsing;
using Vanehour.Board.Tests.Running;

namespace Vanehour.Board.Tests.Tasks;

/// <summary>Marks on findings and rounds by their pages.</summary>
[Collection(OnDemoFleet.Name)]
public sealed class MarkTests(DemoFleet demo)
{
    [SkippableTheory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task AFindingIsAcknowledgedAndThenClosedWithItsCause(bool javaScript)
    {
        await using var board = await RunningBoard.StartAsync(demo.Copy());
        await using var window = await demo.Browser.OpenAsync(board.Address, Forms.With(javaScript));
        await window.GoAsync("/findings");
        var link = window.Page.Locator("main tbody th a").First;
        var id = (await link.GetAttributeAsync("href"))!.Split('/')[^1];
        await link.ClickAsync();
        await window.Page.WaitForURLAsync($"**/findings/{id}");
        var seen = window.Form("acknowledge");
        await seen.GetByLabel("Note").FillAsync("looked at on Monday");
        await seen.GetByLabel("Your name").FillAsync("Ann");
        await seen.SendAsync();
        Assert.Contains($"Acknowledged {id}", await window.SaidAsync(isDone: true), StringComparison.Ordinal);
        Assert.Contains("Acknowledged by Ann.", await window.Page.Locator("main").InnerTextAsync(), StringComparison.Ordinal);
        await window.GoAsync("/findings");
        var row = window.Page.Locator("main tbody tr", new() { Has = window.Page.Locator($"a[href='/findings/{id}']") });
        var text = await row.InnerTextAsync();
        Assert.Contains("(acknowledged)", text, StringComparison.Ordinal);
        Assert.Contains("looked at on Monday", text, StringComparison.Ordinal);

        await window.GoAsync($"/findings/{id}");
        var close = window.Form("close");

        // The cause that the finding names first stands first, after 'nothing was wrong'.
        var named = await window.Page.GetByRole(Microsoft.Playwright.AriaRole.Group, new() { Name = "Likely causes" }).Locator("tbody th").First.InnerTextAsync();
        Assert.Equal(named, await close.Locator("option").Nth(2).InnerTextAsync());
        await close.GetByLabel("What was found").SelectOptionAsync(named);
        await close.GetByLabel("Note").FillAsync("put right");
        await close.GetByLabel("Your name").FillAsync("Ben");
        await close.SendAsync();
        Assert.Contains($"Closed {id}", await window.SaidAsync(isDone: true), StringComparison.Ordinal);
        await window.GoAsync("/findings");
        Assert.Equal(0, await row.CountAsync());
        await window.GoAsync("/findings?which=closed");
        Assert.Equal(1, await row.CountAsync());
        using var findings = JsonDocument.Parse(await CommandLine.RunAsync(board.Folder, "findings", "--all", "--json"));
        var closed = findings.RootElement.EnumerateArray().Single(f => f.GetProperty("id").GetString() == id);
        Assert.Equal("Closed", closed.GetProperty("status").GetString());
        Assert.Equal("put right", closed.GetProperty("note").GetString());
        Assert.NotNull(closed.GetProperty("cause_found").GetString());
        Assert.Empty(window.Complaints);
    }

    [SkippableTheory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task ACheckOfARoundIsTickedOnAPhone(bool javaScript)
    {
        await using var board = await RunningBoard.StartAsync(demo.Copy());
        await using var window = await demo.Browser.OpenAsync(board.Address, Forms.With(javaScript, onPhone: true));
        await window.GoAsync("/rounds");
        var check = window.Page.Locator("ul.ticks > li").First;
        await check.Locator("summary").ClickAsync();
        Assert.Contains("Caution:", await check.InnerTextAsync(), StringComparison.Ordinal);
        var form = check.Locator("form");
        var truck = await form.Locator("input[name=truck]").InputValueAsync();
        var what = await form.Locator("input[name=what]").InputValueAsync();
        Assert.Contains(await DueAsync(), d => d == (truck, what));
        await form.GetByLabel("Note").FillAsync("as it should be");
        await form.GetByLabel("Your name").FillAsync("Cleo");
        var button = form.GetByRole(Microsoft.Playwright.AriaRole.Button);
        await button.ScrollIntoViewIfNeededAsync();
        var box = (await button.BoundingBoxAsync())!;
        Assert.True(box.X >= 0 && box.X + box.Width <= Sizes.Phone.Width && box.Height >= 40, $"{box.X} {box.Width} {box.Height}");
        await button.ClickAsync();
        Assert.Contains($"Marked: {what} on {truck} by Cleo", await window.SaidAsync(isDone: true), StringComparison.Ordinal);
        Assert.DoesNotContain(await DueAsync(), d => d == (truck, what));
        Assert.Equal(0, await window.Page.Locator($"form:has(input[name=truck][value='{truck}']):has(input[name=what][value='{what}'])").CountAsync());
        Assert.Empty(window.Complaints);

        async Task<List<(string, string)>> DueAsync()
        {
            using var rounds = JsonDocument.Parse(await CommandLine.RunAsync(board.Folder, "rounds", "--json"));
            return [.. rounds.RootElement.EnumerateArray().Select(r => (r.GetProperty("truck").GetString()!, r.GetProperty("check").GetString()!))];
        }
    }
}
