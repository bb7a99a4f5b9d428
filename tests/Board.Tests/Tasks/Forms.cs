using Microsoft.Playwright;
using Vanehour.Board.Tests.Browsing;

namespace Vanehour.Board.Tests.Tasks;

/// <summary>How people use forms.</summary>
internal static class Forms
{
    /// <summary>A browser, with scripts or without, on a desk or a phone.</summary>
    public static BrowserNewContextOptions With(bool javaScript, bool onPhone = false) => new() { JavaScriptEnabled = javaScript, ViewportSize = onPhone ? Sizes.Phone : Sizes.Desktop };

    /// <summary>The form that does something, the first of its kind.</summary>
    public static ILocator Form(this Window window, string deed) => window.Page.Locator($"form[action='/do/{deed}']").First;

    /// <summary>Unfolds what is under a heading.</summary>
    public static Task OpenAsync(this Window window, string summary) => window.Page.Locator("summary", new() { HasText = summary }).First.ClickAsync();

    /// <summary>Sends a form by its button.</summary>
    public static Task SendAsync(this ILocator form) => form.GetByRole(AriaRole.Button).ClickAsync();
}
