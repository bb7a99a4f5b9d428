using Vanehour.Board.Tests.Browsing;
using Vanehour.Board.Tests.Running;

namespace Vanehour.Board.Tests.Looks;

/// <summary>The pages without a mouse.</summary>
[Collection(OnDemoFleet.Name)]
public sealed class KeyboardTests(DemoFleet demo)
{
    private const string Reachable = """
        () => [...document.querySelectorAll('a[href], button, input:not([type=hidden]), select, summary, [tabindex="0"]')]
          .filter(e => e.checkVisibility() ).map((e, i) => { e.dataset.nth = String(i); return e.dataset.nth; })
        """;

    // What the focus is on, and whether that can be seen: an outline, and not outside the window.
    private const string Focused = """
        () => {
          const e = document.activeElement, s = getComputedStyle(e), r = e.getBoundingClientRect();
          return [e.dataset.nth ?? e.tagName, String(s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 1 && r.width > 0 && r.bottom > 0 && r.top < innerHeight), e.outerHTML.slice(0, 120)];
        }
        """;

    [SkippableTheory]
    [InlineData("/")]
    [InlineData("truck")]
    [InlineData("/plan")]
    public async Task TabReachesEverythingInOrderAndTheFocusIsSeen(string page)
    {
        var board = await demo.LookAsync();

        // Otherwise the page may still be gliding to what has the focus when it is looked at.
        await using var window = await demo.Browser.OpenAsync(board.Address, new() { ReducedMotion = Microsoft.Playwright.ReducedMotion.Reduce });
        await window.GoAsync(page == "truck" ? BoardPages.Of(board.Folder)[1] : page);
        var wanted = await window.Page.EvaluateAsync<string[]>(Reachable);
        Assert.True(wanted.Length > 15);
        var met = new List<string>();
        for (var i = 0; i < wanted.Length; i++)
        {
            await window.Page.Keyboard.PressAsync("Tab");
            var focused = await window.Page.EvaluateAsync<string[]>(Focused);
            Assert.True(focused[1] == "true", $"The focus is not seen on {focused[2]}");
            met.Add(focused[0]);
        }

        Assert.Equal(wanted, met);
    }

    [SkippableFact]
    public async Task TheFirstLinkSkipsToTheContent()
    {
        var board = await demo.LookAsync();
        await using var window = await demo.Browser.OpenAsync(board.Address);
        await window.GoAsync("/plan?x=1");
        await window.Page.Keyboard.PressAsync("Tab");
        Assert.Equal("Skip to content", await window.Page.EvaluateAsync<string>("document.activeElement.textContent"));
        await window.Page.Keyboard.PressAsync("Enter");
        await window.Page.WaitForFunctionAsync("document.activeElement.id === 'main'");
        Assert.EndsWith("/plan?x=1#main", window.Page.Url, StringComparison.Ordinal);
        await window.Page.Keyboard.PressAsync("Tab");
        Assert.True(await window.Page.EvaluateAsync<bool>("document.activeElement.closest('main') !== null"));
    }
}
