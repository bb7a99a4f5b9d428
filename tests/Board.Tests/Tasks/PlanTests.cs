using System.Text.Json;
using Ical.Net;
using Vanehour.Board.Tests.Running;

namespace Vanehour.Board.Tests.Tasks;

/// <summary>The plan by its pages: pins, blocks, reasons, calendar.</summary>
[Collection(OnDemoFleet.Name)]
public sealed class PlanTests(DemoFleet demo)
{
    [SkippableTheory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task AJobIsPinnedToAnotherWeekAndFreedAgain(bool javaScript)
    {
        await using var board = await RunningBoard.StartAsync(demo.Copy());
        var before = await JobsAsync(board.Folder);
        var job = before[1];
        await using var window = await demo.Browser.OpenAsync(board.Address, Forms.With(javaScript));
        await window.GoAsync("/plan");
        await window.Page.Locator("table.weeks a.job", new() { HasText = job.Truck }).ClickAsync();
        await window.Page.WaitForURLAsync($"**/plan/{job.Truck}");
        Assert.Contains($"Planned for {job.Week}", await window.Page.Locator("main").InnerTextAsync(), StringComparison.Ordinal);

        // Every week says what it would cost more; the planned one nothing.
        var rows = window.Page.GetByRole(Microsoft.Playwright.AriaRole.Group, new() { Name = "Weeks and what they would cost" }).Locator("tbody tr");
        Assert.Equal(26, await rows.CountAsync());
        var wanted = rows.Nth(15);
        var week = (await wanted.Locator("th").InnerTextAsync()).Trim();
        var cost = (await wanted.Locator("td").Nth(3).InnerTextAsync()).Trim();
        Assert.NotEqual(job.Week, week);
        Assert.StartsWith("+", cost, StringComparison.Ordinal);
        await wanted.GetByRole(Microsoft.Playwright.AriaRole.Link).ClickAsync();
        await window.Page.WaitForURLAsync("**?week=*");
        var form = window.Form("pin");
        Assert.Equal(week, await form.GetByLabel("Week").InputValueAsync());
        Assert.Contains(cost, await form.Locator("option:checked").InnerTextAsync(), StringComparison.Ordinal);
        await form.GetByLabel("Why").FillAsync("the customer shuts down then");
        await form.GetByLabel("Your name").FillAsync("Ann");
        await form.SendAsync();
        var said = await window.SaidAsync(isDone: true);
        Assert.Contains($"Pinned {job.Truck} to {week}", said, StringComparison.Ordinal);
        Assert.Contains("Expected cost of the plan", said, StringComparison.Ordinal);
        Assert.Equal((job.Truck, week, true), Assert.Single(await JobsAsync(board.Folder), j => j.Truck == job.Truck));

        await window.GoAsync("/plan");
        Assert.True(await window.Page.Locator("table.weeks tr", new() { HasText = week }).GetByText($"{job.Truck} (pinned)").IsVisibleAsync());
        var mark = window.Page.Locator("ul.marks li");
        Assert.Contains($"{job.Truck} is pinned to {week}, says Ann: the customer shuts down then", await mark.InnerTextAsync(), StringComparison.Ordinal);
        await mark.GetByRole(Microsoft.Playwright.AriaRole.Button).ClickAsync();
        Assert.Contains($"Took the pin of {job.Truck}", await window.SaidAsync(isDone: true), StringComparison.Ordinal);
        Assert.Equal(0, await mark.CountAsync());
        Assert.Equal(before, await JobsAsync(board.Folder));
        Assert.Empty(window.Complaints);
    }

    [SkippableTheory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task AWeekIsBlockedAndFreedAgain(bool javaScript)
    {
        await using var board = await RunningBoard.StartAsync(demo.Copy());
        var before = await JobsAsync(board.Folder);
        var job = before[2];
        await using var window = await demo.Browser.OpenAsync(board.Address, Forms.With(javaScript));
        await window.GoAsync("/plan");
        await window.OpenAsync("Block weeks");
        var form = window.Form("block");
        await form.GetByLabel("First week").SelectOptionAsync(job.Week);
        await form.GetByLabel("Why").FillAsync("holidays");
        await form.GetByLabel("Your name").FillAsync("Ben");
        await form.SendAsync();
        Assert.Contains($"Blocked {job.Week} for every yard", await window.SaidAsync(isDone: true), StringComparison.Ordinal);
        Assert.DoesNotContain(await JobsAsync(board.Folder), j => j.Week == job.Week);
        var row = window.Page.Locator("table.weeks tbody tr", new() { HasText = job.Week });
        Assert.Equal(await row.Locator("td").CountAsync(), await row.Locator("td.blocked").CountAsync());

        // A last week before the first is refused, and what was typed stays.
        await window.OpenAsync("Block weeks");
        await form.GetByLabel("First week").SelectOptionAsync(before[3].Week);
        await form.GetByLabel("Last week").SelectOptionAsync(job.Week);
        await form.GetByLabel("Why").FillAsync("typed for nothing");
        await form.SendAsync();
        Assert.Contains("is before", await window.SaidAsync(isDone: false), StringComparison.Ordinal);
        Assert.True(await form.IsVisibleAsync());
        Assert.Equal("typed for nothing", await form.GetByLabel("Why").InputValueAsync());
        Assert.Equal(before[3].Week, await form.GetByLabel("First week").InputValueAsync());

        await window.Page.Locator("ul.marks li").GetByRole(Microsoft.Playwright.AriaRole.Button).ClickAsync();
        Assert.Contains("Took the block", await window.SaidAsync(isDone: true), StringComparison.Ordinal);

        // A job that was moved stays where it is unless moving back is worth it: only the week is free again.
        Assert.Equal(0, await row.Locator("td.blocked").CountAsync());
        Assert.Equal(0, await window.Page.Locator("ul.marks li").CountAsync());
        Assert.Equal("[]", (await CommandLine.RunAsync(board.Folder, "plan", "marks", "--json")).Trim());
        Assert.Empty(window.Complaints);
    }

    [SkippableFact]
    public async Task ThePlanIsAPictureAndACalendar()
    {
        var board = await demo.LookAsync();
        var jobs = await JobsAsync(board.Folder);
        await using var window = await demo.Browser.OpenAsync(board.Address);
        await window.GoAsync("/plan");
        Assert.True(await window.Page.GetByRole(Microsoft.Playwright.AriaRole.Img, new() { Name = "Rebuild plan by week" }).IsVisibleAsync());
        var link = await window.Page.GetByRole(Microsoft.Playwright.AriaRole.Link, new() { Name = "Jobs as iCalendar" }).GetAttributeAsync("href");
        using var visitor = new Visitor(board);
        using var answer = await visitor.GetAsync(link!);
        Assert.Equal("text/calendar; charset=utf-8", answer.Content.Headers.ContentType!.ToString());
        var calendar = Calendar.Load(await answer.Content.ReadAsStringAsync())!;
        Assert.Equal(jobs.Count, calendar.Events.Count);
        Assert.All(jobs, j => Assert.Contains(calendar.Events, e => e.Summary!.Contains(j.Truck, StringComparison.Ordinal)));
        foreach (var picture in new[] { "/pictures/plan.png", "/pictures/models.png", $"/pictures/truck/{jobs[0].Truck}.png" })
        {
            using var png = await visitor.GetAsync(picture);
            Assert.Equal("image/png", png.Content.Headers.ContentType!.ToString());
            Assert.Equal([0x89, 0x50, 0x4e, 0x47], (await png.Content.ReadAsByteArrayAsync())[..4]);
        }
    }

    private static async Task<List<(string Truck, string Week, bool Pinned)>> JobsAsync(string folder)
    {
        using var plan = JsonDocument.Parse(await CommandLine.RunAsync(folder, "plan", "--json"));
        return [.. plan.RootElement.EnumerateArray().Select(j => (j.GetProperty("truck").GetString()!, j.GetProperty("week").GetString()!, j.GetProperty("pinned").GetBoolean()))];
    }
}
