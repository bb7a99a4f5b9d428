using Microsoft.Playwright;
using Vanehour.Board.Tests.Running;

namespace Vanehour.Board.Tests.Tasks;

/// <summary>A training drill by its page.</summary>
[Collection(OnDemoFleet.Name)]
public sealed class DrillTests(DemoFleet demo)
{
    [SkippableFact]
    public async Task ADrillIsAnsweredAndThenRevealed()
    {
        var folder = demo.Empty();
        await CommandLine.RunAsync(folder, "drill", "new", "4", "--seed", "1");
        await using var board = await RunningBoard.StartAsync(folder);
        await using var window = await demo.Browser.OpenAsync(board.Address);
        await window.GoAsync("/");
        await window.Page.GetByRole(AriaRole.Link, new() { Name = "Training", Exact = true }).ClickAsync();
        await window.Page.WaitForURLAsync("**/training");
        Assert.Contains("With the tank nearly full", await window.Page.Locator("blockquote").InnerTextAsync(), StringComparison.Ordinal);
        var form = window.Form("answer");
        await form.GetByLabel("Truck").SelectOptionAsync("T02");
        await form.GetByLabel("What is wrong").SelectOptionAsync("None");
        await form.GetByLabel("What should be done").SelectOptionAsync("KeepWatching");
        await form.GetByLabel("Why").FillAsync("it sounds as always");
        await form.GetByLabel("Your name").FillAsync("Ann");
        await form.SendAsync();
        await window.SaidAsync(isDone: true);
        var text = await window.Page.Locator("main").InnerTextAsync();
        Assert.Contains("Ann: has answered", text, StringComparison.Ordinal);
        Assert.DoesNotContain("points", text, StringComparison.Ordinal);
        Assert.DoesNotContain("What it was", text, StringComparison.Ordinal);

        // A form that was not meant shows no truth for good.
        using (var visitor = new Visitor(board))
        {
            using var unsure = await visitor.PostAsync("/training", "/do/reveal", ("by", "Ben"), ("back", "/training"));
            Assert.DoesNotContain("What it was", await visitor.TextAsync("/training"), StringComparison.Ordinal);
        }

        await window.OpenAsync("For the instructor");
        var reveal = window.Form("reveal");
        await reveal.GetByRole(AriaRole.Checkbox).CheckAsync();
        await reveal.GetByLabel("Your name").FillAsync("Ben");
        await reveal.SendAsync();
        await window.SaidAsync(isDone: true);
        text = await window.Page.Locator("main").InnerTextAsync();
        Assert.Contains("What it was", text, StringComparison.Ordinal);
        Assert.Contains("of 10 points for T02, nothing wrong", text, StringComparison.Ordinal);
        Assert.Equal(0, await window.Page.Locator("form[action='/do/answer']").CountAsync());
        foreach (var path in new[] { "/", "/trucks/T02", "/plan", "/training" })
        {
            await window.GoAsync(path);
            Assert.Contains("TRAINING", await window.Page.Locator(".banner").InnerTextAsync(), StringComparison.Ordinal);
        }

        var (violations, _) = await Looks.Axe.CheckAsync(window.Page);
        Assert.Empty(violations);
        Assert.Empty(window.Complaints);
    }
}
