using Microsoft.Playwright;
using Vanehour.Board.Tests.Browsing;
using Vanehour.Board.Tests.Running;
using Xunit.Abstractions;

namespace Vanehour.Board.Tests.Looks;

/// <summary>What must hold of every page, on a desk and on a phone.</summary>
[Collection(OnDemoFleet.Name)]
public sealed class EveryPageTests(DemoFleet demo, ITestOutputHelper output)
{
    /// <summary>Tags wcag2a, wcag2aa, wcag21a, wcag21aa and wcag22aa of axe-core; what is only its advice is written to the test's output.</summary>
    [SkippableTheory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task AxeFindsNothingAgainstWcag22AA(bool onPhone)
    {
        var board = await demo.LookAsync();
        await using var window = await demo.Browser.OpenAsync(board.Address, Size(onPhone));
        var problems = new List<string>();
        foreach (var path in BoardPages.Of(board.Folder))
        {
            await window.GoAsync(path);
            await OpenAllAsync(window.Page);
            var (violations, advice) = await Axe.CheckAsync(window.Page);
            problems.AddRange(violations.Select(v => $"{path}: {v}"));
            output.WriteLine(string.Join('\n', advice.Select(a => $"advice, {path}: {a}")));
        }

        Assert.True(problems.Count == 0, string.Join('\n', problems));
    }

    [SkippableFact]
    public async Task NoPageBreaksItsContentPolicyOrWritesAnErrorToTheConsole()
    {
        var board = await demo.LookAsync();
        await using var window = await demo.Browser.OpenAsync(board.Address);
        foreach (var path in BoardPages.Of(board.Folder))
        {
            await window.GoAsync(path);
        }

        Assert.True(window.Complaints.Count == 0, string.Join('\n', window.Complaints.Distinct()));
    }

    [SkippableFact]
    public async Task NoPageScrollsSidewaysOnAPhone()
    {
        var board = await demo.LookAsync();
        await using var window = await demo.Browser.OpenAsync(board.Address, Size(onPhone: true));
        var wide = new List<string>();
        foreach (var path in BoardPages.Of(board.Folder))
        {
            await window.GoAsync(path);
            await OpenAllAsync(window.Page);
            var (scroll, client) = (await Width("scrollWidth"), await Width("clientWidth"));
            if (scroll > client)
            {
                wide.Add($"{path}: {scroll} px wide");
            }
        }

        Assert.True(wide.Count == 0, string.Join('\n', wide));

        Task<int> Width(string name) => window.Page.EvaluateAsync<int>($"document.documentElement.{name}");
    }

    [SkippableFact]
    public async Task EveryPageHasATitleAHeadingALanguage_AndSaysThatDataAreSimulatedAndWhatToMind()
    {
        var board = await demo.LookAsync();
        await using var window = await demo.Browser.OpenAsync(board.Address);
        var titles = new List<string>();
        foreach (var path in BoardPages.Of(board.Folder).Where(p => !p.Contains('?', StringComparison.Ordinal)))
        {
            await window.GoAsync(path);
            titles.Add(await window.Page.TitleAsync());
            Assert.Equal(1, await window.Page.Locator("h1").CountAsync());
            Assert.Equal("en", await window.Page.Locator("html").GetAttributeAsync("lang"));
            Assert.True(await window.Page.Locator(".banner", new() { HasText = "SIMULATED DATA" }).IsVisibleAsync(), path);
            Assert.Contains("PTO off, key out and locked out", await window.Page.Locator("footer").InnerTextAsync(), StringComparison.Ordinal);
        }

        Assert.Equal(titles.Count, titles.Distinct().Count());
        Assert.All(titles, t => Assert.EndsWith(" - Vanehour", t, StringComparison.Ordinal));
    }

    /// <summary>What is on paper: neither navigation nor forms, and the charts and tables whole.</summary>
    [SkippableFact]
    public async Task PaperShowsNeitherNavigationNorForms()
    {
        var board = await demo.LookAsync();
        await using var window = await demo.Browser.OpenAsync(board.Address);
        foreach (var path in BoardPages.Of(board.Folder).Where(p => p != "/sign-in"))
        {
            await window.GoAsync(path);
            await window.Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });
            Assert.True(await window.Page.Locator("h1").IsVisibleAsync(), path);
            foreach (var hidden in await window.Page.Locator("nav, form, .skip").AllAsync())
            {
                Assert.False(await hidden.IsVisibleAsync(), $"{path}: {await hidden.EvaluateAsync<string>("e => e.outerHTML.slice(0, 200)")}");
            }

            await window.Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Screen });
        }
    }

    /// <summary>Opens what is folded, so that it is checked too.</summary>
    private static Task<int> OpenAllAsync(IPage page) => page.EvaluateAsync<int>("[...document.querySelectorAll('details')].map(d => d.open = true).length");

    private static BrowserNewContextOptions Size(bool onPhone) => new() { ViewportSize = onPhone ? Sizes.Phone : Sizes.Desktop };
}
