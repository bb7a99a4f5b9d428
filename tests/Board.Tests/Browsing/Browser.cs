using Microsoft.Playwright;

namespace Vanehour.Board.Tests.Browsing;

/// <summary>
/// Debian's chromium without a window. Where it is not installed tests are skipped, unless the environment variable
/// <c>VANEHOUR_REQUIRE_SERVICES</c> is 1: then they fail.
/// </summary>
internal sealed class Browser : IAsyncDisposable
{
    private const string Program = "/usr/bin/chromium";

    private IPlaywright? playwright;
    private IBrowser? browser;

    /// <summary>A window of its own, without cookies of another; or skips the test.</summary>
    /// <param name="address">The Board's address; paths are relative to it.</param>
    /// <param name="options">What is special about it.</param>
    public async Task<Window> OpenAsync(Uri address, BrowserNewContextOptions? options = null)
    {
        if (!File.Exists(Program))
        {
            Assert.False(Environment.GetEnvironmentVariable("VANEHOUR_REQUIRE_SERVICES") == "1", "chromium is not installed, and VANEHOUR_REQUIRE_SERVICES=1 asks for it.");
            Skip.If(true, "chromium is not installed.");
        }

        playwright ??= await Playwright.CreateAsync();
        browser ??= await playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = Program,
            Headless = true,
            Args = ["--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage"],
        });
        options ??= new BrowserNewContextOptions();
        options.BaseURL = address.ToString();
        options.ViewportSize ??= Sizes.Desktop;
        return await Window.OpenAsync(await browser.NewContextAsync(options));
    }

    public async ValueTask DisposeAsync()
    {
        if (browser is not null)
        {
            await browser.DisposeAsync();
        }

        playwright?.Dispose();
    }
}
