using System.Text.Json;
using Vanehour.Board.Tests.Running;

namespace Vanehour.Board.Tests.Tasks;

/// <summary>Service records by the page of a truck.</summary>
[Collection(OnDemoFleet.Name)]
public sealed class RecordTests(DemoFleet demo)
{
    private static readonly TimeSpan AnalysisLimit = TimeSpan.FromMinutes(3);

    [SkippableTheory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task ARecordIsRefusedWithWhatWasTypedThenTakenThenDeleted(bool javaScript)
    {
        await using var board = await RunningBoard.StartAsync(demo.Copy());
        var truck = await LikeliestAsync(board.Folder);
        var before = await RecordsAsync(board.Folder, truck);
        await using var window = await demo.Browser.OpenAsync(board.Address, Forms.With(javaScript));
        await window.GoAsync($"/trucks/{truck}");
        await window.OpenAsync("Add a record");
        var form = window.Form("record");
        await form.GetByLabel("What was done").SelectOptionAsync("inlet_filter");
        await form.GetByLabel("PTO hours on the meter").FillAsync("1");
        await form.GetByLabel("Note").FillAsync("with <b>filter</b> & 'quotes' \"twice\"");
        await form.GetByLabel("Your name").FillAsync("Ann");
        await form.SendAsync();
        var why = await window.SaidAsync(isDone: false);
        Assert.Contains($"The meter of {truck} would read 1 h", why, StringComparison.Ordinal);
        Assert.Equal(before.Count, (await RecordsAsync(board.Folder, truck)).Count);

        // The form stands open with what was typed.
        Assert.True(await form.IsVisibleAsync());
        Assert.Equal("inlet_filter", await form.GetByLabel("What was done").InputValueAsync());
        Assert.Equal("1", await form.GetByLabel("PTO hours on the meter").InputValueAsync());
        Assert.Equal("with <b>filter</b> & 'quotes' \"twice\"", await form.GetByLabel("Note").InputValueAsync());
        Assert.Equal("Ann", await form.GetByLabel("Your name").InputValueAsync());

        await form.GetByLabel("PTO hours on the meter").FillAsync("");
        await form.SendAsync();
        Assert.Contains("Recorded ", await window.SaidAsync(isDone: true), StringComparison.Ordinal);
        var added = Assert.Single((await RecordsAsync(board.Folder, truck)).ExceptBy(before.Select(r => r.Id), r => r.Id));
        Assert.Equal(("inlet_filter", "with <b>filter</b> & 'quotes' \"twice\""), (added.Kind, added.Note));
        var row = window.Page.GetByRole(Microsoft.Playwright.AriaRole.Group, new() { Name = "Service records" }).Locator("tbody tr", new() { HasText = added.Note });
        Assert.Equal(1, await row.CountAsync());

        // What was said once is not said again.
        await window.GoAsync($"/trucks/{truck}");
        Assert.Equal(0, await window.Page.Locator("#said").CountAsync());

        await row.Locator("summary").ClickAsync();
        await row.GetByLabel("Why").FillAsync("it was another truck");
        Assert.Equal("Ann", await row.GetByLabel("Your name").InputValueAsync());
        await row.GetByRole(Microsoft.Playwright.AriaRole.Button).ClickAsync();
        Assert.Contains("Deleted ", await window.SaidAsync(isDone: true), StringComparison.Ordinal);
        Assert.Equal(before, await RecordsAsync(board.Folder, truck));
        var history = await CommandLine.RunAsync(board.Folder, "record", "history", truck, "--json");
        Assert.Contains("it was another truck", history, StringComparison.Ordinal);
        Assert.Contains("\"Ann\"", history, StringComparison.Ordinal);
        Assert.Empty(window.Complaints);
    }

    /// <summary>The analysis that a record asks for begins the pump's life anew, and the plan follows.</summary>
    [SkippableFact]
    public async Task ARebuildRestartsTheLifeAndChangesThePlan()
    {
        await using var board = await RunningBoard.StartAsync(demo.Copy());
        var truck = await LikeliestAsync(board.Folder);
        var planned = await WeekAsync(board.Folder, truck);
        Assert.NotNull(planned);
        await using var window = await demo.Browser.OpenAsync(board.Address);
        await window.GoAsync($"/trucks/{truck}");
        var facts = window.Page.Locator("dl.facts");
        var fitted = await FactAsync("Fitted");
        var hours = int.Parse((await FactAsync("Since then")).Split(' ')[0], System.Globalization.CultureInfo.InvariantCulture);
        await window.OpenAsync("Add a record");
        var form = window.Form("record");
        await form.GetByLabel("What was done").SelectOptionAsync("rebuild");
        await form.GetByLabel("Your name").FillAsync("Ann");

        // Where the demonstration's data end, which the field says already.
        Assert.StartsWith("2026-", await form.GetByLabel("When").InputValueAsync(), StringComparison.Ordinal);
        await form.SendAsync();
        Assert.Contains("A new analysis was asked for", await window.SaidAsync(isDone: true), StringComparison.Ordinal);
        Assert.NotEqual(fitted, await FactAsync("Fitted"));
        Assert.Equal(0, await facts.GetByText("Wear", new() { Exact = true }).CountAsync());

        using var visitor = new Visitor(board);
        using var limit = new CancellationTokenSource(AnalysisLimit);
        while ((await visitor.TextAsync("/api/stamp")).Contains("\"analysing\":true", StringComparison.Ordinal))
        {
            await Task.Delay(200, limit.Token);
        }

        await window.GoAsync($"/trucks/{truck}");
        Assert.Equal(0, await window.Page.Locator(".said.refused").CountAsync());
        Assert.NotEqual(planned, await WeekAsync(board.Folder, truck));
        using var wear = JsonDocument.Parse(await visitor.TextAsync("/api/wear"));
        var since = wear.RootElement.EnumerateArray().Single(w => w.GetProperty("truck").GetString() == truck).GetProperty("hours_since_fitting").GetDouble();
        Assert.True(since < 10 && hours > 500, $"{since} h after {hours} h");
        await window.GoAsync("/plan");
        Assert.DoesNotContain($"{truck}\t{planned}", await window.Page.Locator("section[aria-labelledby=jobs]").InnerTextAsync(), StringComparison.Ordinal);

        Task<string> FactAsync(string name) => facts.Locator("div", new() { HasText = name }).First.Locator("dd").InnerTextAsync();
    }

    /// <summary>The truck whose vanes are likeliest at their limit before its job.</summary>
    private static async Task<string> LikeliestAsync(string folder)
    {
        using var plan = JsonDocument.Parse(await CommandLine.RunAsync(folder, "plan", "--json"));
        return plan.RootElement.EnumerateArray().MaxBy(j => j.GetProperty("chance_before").GetDouble()).GetProperty("truck").GetString()!;
    }

    private static async Task<string?> WeekAsync(string folder, string truck)
    {
        using var plan = JsonDocument.Parse(await CommandLine.RunAsync(folder, "plan", "--json"));
        return plan.RootElement.EnumerateArray().Where(j => j.GetProperty("truck").GetString() == truck).Select(j => j.GetProperty("week").GetString()).FirstOrDefault();
    }

    private static async Task<List<(string Id, string Kind, string? Note)>> RecordsAsync(string folder, string truck)
    {
        using var records = JsonDocument.Parse(await CommandLine.RunAsync(folder, "record", "list", truck, "--json"));
        return [.. records.RootElement.EnumerateArray().Select(r => (r.GetProperty("id").GetString()!, r.GetProperty("kind").GetString()!, r.GetProperty("note").GetString()))];
    }
}
