using Microsoft.Playwright;

namespace Vanehour.Board.Tests.Browsing;

/// <summary>A page in a browser, and what it complained of: errors, refused content, dialogs that a script opened.</summary>
internal sealed class Window : IAsyncDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);

    private readonly IBrowserContext context;
    private readonly List<string> complaints = [];

    private Window(IBrowserContext context, IPage page)
    {
        this.context = context;
        Page = page;
    }

    /// <summary>The page.</summary>
    public IPage Page { get; }

    /// <summary>What it complained of so far.</summary>
    public IReadOnlyList<string> Complaints => complaints;

    public static async Task<Window> OpenAsync(IBrowserContext context)
    {
        context.SetDefaultTimeout((float)Patience.TotalMilliseconds);
        var window = new Window(context, await context.NewPageAsync());
        window.Page.Console += (_, message) =>
        {
            if (message.Type is "error" or "warning")
            {
                window.complaints.Add($"{message.Type}: {message.Text} ({message.Location})");
            }
        };
        window.Page.PageError += (_, error) => window.complaints.Add($"error: {error}");
        window.Page.Dialog += async (_, dialog) =>
        {
            window.complaints.Add($"dialog: {dialog.Message}");
            await dialog.DismissAsync();
        };
        return window;
    }

    /// <summary>Goes to a path of the Board; the answer must be of the status.</summary>
    public async Task GoAsync(string path, int status = 200)
    {
        var answer = await Page.GotoAsync(path);
        Assert.Equal(status, answer!.Status);
    }

    /// <summary>What the box at the head of the page says of the form that was sent.</summary>
    public async Task<string> SaidAsync(bool isDone)
    {
        var box = Page.Locator("#said");
        await box.WaitForAsync();
        var text = await box.InnerTextAsync();
        Assert.True(await box.GetAttributeAsync("class") == (isDone ? "said done" : "said refused"), text);
        return text;
    }

    public ValueTask DisposeAsync() => context.DisposeAsync();
}
