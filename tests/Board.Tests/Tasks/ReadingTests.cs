using System.Text.Json;
using Vanehour.Board.Tests.Running;

namespace Vanehour.Board.Tests.Tasks;

/// <summary>What people come to the pages for, where nothing is changed.</summary>
[Collection(OnDemoFleet.Name)]
public sealed class ReadingTests(DemoFleet demo)
{
    /// <summary>By the findings and the plan as the command line gives them: trucks to stop, trucks for this week, planned ones by week, the rest.</summary>
    [SkippableFact]
    public async Task Fleet_PutsWhatNeedsDoingFirst()
    {
        var board = await demo.LookAsync();
        await using var window = await demo.Browser.OpenAsync(board.Address);
        await window.GoAsync("/");
        var shown = await window.Page.Locator("table.fleet tbody th a").AllInnerTextsAsync();
        var findings = await TrucksByUrgencyAsync(board.Folder);
        using var plan = JsonDocument.Parse(await CommandLine.RunAsync(board.Folder, "plan", "--json"));
        var weeks = plan.RootElement.EnumerateArray().ToDictionary(j => j.GetProperty("truck").GetString()!, j => j.GetProperty("week").GetString()!);
        var ranks = shown.Select(t => (
            findings["Stop"].Contains(t) ? 0 : findings["Week"].Contains(t) ? 1 : 2,
            weeks.GetValueOrDefault(t, "9999"))).ToList();
        Assert.Equal(12, shown.Distinct().Count());
        Assert.NotEmpty(findings["Stop"]);
        Assert.Contains(shown, t => !findings["Stop"].Contains(t) && !findings["Week"].Contains(t) && weeks.ContainsKey(t));
        Assert.Equal(ranks.Order(), ranks);
    }

    [SkippableTheory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Fleet_IsFilteredByYardModelAndNeed(bool javaScript)
    {
        var board = await demo.LookAsync();
        await using var window = await demo.Browser.OpenAsync(board.Address, new() { JavaScriptEnabled = javaScript });
        await window.GoAsync("/");
        using var trucks = JsonDocument.Parse(await CommandLine.RunAsync(board.Folder, "trucks", "--json"));
        var yard = trucks.RootElement[0].GetProperty("yard").GetString()!;
        var ofYard = trucks.RootElement.EnumerateArray().Where(t => t.GetProperty("yard").GetString() == yard).Select(t => t.GetProperty("truck").GetString()!).ToHashSet();
        await window.Page.GetByLabel("Yard").SelectOptionAsync(yard);
        await window.Page.GetByRole(Microsoft.Playwright.AriaRole.Button, new() { Name = "Show" }).ClickAsync();
        await window.Page.WaitForURLAsync("**/?yard=*");
        Assert.Equal(ofYard, await ShownAsync());
        Assert.Equal(yard, await window.Page.GetByLabel("Yard").InputValueAsync());

        await window.Page.GetByLabel("Yard").SelectOptionAsync("");
        await window.Page.GetByLabel("Needs").SelectOptionAsync("stop");
        await window.Page.GetByRole(Microsoft.Playwright.AriaRole.Button, new() { Name = "Show" }).ClickAsync();
        await window.Page.WaitForURLAsync("**needs=stop*");
        Assert.Equal((await TrucksByUrgencyAsync(board.Folder))["Stop"].ToHashSet(), await ShownAsync());

        async Task<HashSet<string>> ShownAsync() => [.. await window.Page.Locator("table.fleet tbody th a").AllInnerTextsAsync()];
    }

    [SkippableFact]
    public async Task Truck_ShowsItsTrendItsFindingsAndItsRuns()
    {
        var board = await demo.LookAsync();
        var truck = (await TrucksByUrgencyAsync(board.Folder))["Week"].First();
        await using var window = await demo.Browser.OpenAsync(board.Address);
        await window.GoAsync("/");
        await window.Page.GetByRole(Microsoft.Playwright.AriaRole.Link, new() { Name = truck, Exact = true }).First.ClickAsync();
        await window.Page.WaitForURLAsync($"**/trucks/{truck}");
        var chart = window.Page.GetByRole(Microsoft.Playwright.AriaRole.Img, new() { Name = $"Trend of {truck}" });
        Assert.True(await chart.IsVisibleAsync());
        Assert.Equal("svg", await chart.EvaluateAsync<string>("e => e.tagName.toLowerCase()"));
        Assert.True((await chart.BoundingBoxAsync())!.Height > 100);
        Assert.Contains("limit", await window.Page.Locator("figcaption").InnerTextAsync(), StringComparison.OrdinalIgnoreCase);

        // The values under the pointer are those of the table's row whose weeks lie there: at a third of the chart there are runs.
        var box = (await chart.BoundingBoxAsync())!;
        await window.Page.Mouse.MoveAsync(box.X + (box.Width / 3), box.Y + 200);
        var read = await window.Page.Locator(".readout").InnerTextAsync();
        var rows = await window.Page.Locator("details.values tbody tr").EvaluateAllAsync<string[][]>("rows => rows.map(r => [r.dataset.left, r.dataset.right, ...[...r.cells].map(c => c.textContent)])");
        var row = rows.Single(r => Number(r[0]) <= 800 / 3.0 && Number(r[1]) > 800 / 3.0);
        Assert.StartsWith($"{row[2]}: PTO hours, h {row[3]}; ", read, StringComparison.Ordinal);
        Assert.True(await window.Page.Locator(".guide").IsVisibleAsync());

        using var findings = JsonDocument.Parse(await CommandLine.RunAsync(board.Folder, "findings", truck, "--json"));
        var ids = findings.RootElement.EnumerateArray().Select(f => "/findings/" + f.GetProperty("id").GetString()).Order();
        var links = await window.Page.Locator("ul.findings a").EvaluateAllAsync<string[]>("all => all.map(a => a.getAttribute('href'))");
        Assert.Equal(ids, links.Order());
        Assert.True(await window.Page.GetByRole(Microsoft.Playwright.AriaRole.Group, new() { Name = "The last 20 runs" }).IsVisibleAsync());

        // The links at the head lead where they say, from below a folder too.
        await window.Page.GetByRole(Microsoft.Playwright.AriaRole.Link, new() { Name = "Rounds", Exact = true }).ClickAsync();
        await window.Page.WaitForURLAsync(u => new Uri(u).AbsolutePath == "/rounds");

        static double Number(string text) => double.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
    }

    [SkippableFact]
    public async Task Models_ShowTheComparisonAsAChartAndAsATable()
    {
        var board = await demo.LookAsync();
        await using var window = await demo.Browser.OpenAsync(board.Address);
        await window.GoAsync("/models");
        Assert.True(await window.Page.GetByRole(Microsoft.Playwright.AriaRole.Img, new() { Name = "Pump models compared" }).IsVisibleAsync());
        var table = await window.Page.Locator("table", new() { HasText = "Pump models in numbers" }).First.InnerTextAsync();
        using var compared = JsonDocument.Parse(await CommandLine.RunAsync(board.Folder, "models", "--json"));
        Assert.True(compared.RootElement.GetArrayLength() > 0);
        Assert.Contains("Thistle 230", table, StringComparison.Ordinal);
        Assert.Contains("Harrow 310", table, StringComparison.Ordinal);
    }

    [SkippableFact]
    public async Task Feeds_ListWhoWasHeardAndWhatWasRefused()
    {
        var board = await demo.LookAsync();
        await using var window = await demo.Browser.OpenAsync(board.Address);
        await window.GoAsync("/feeds");
        Assert.Equal(12, await window.Page.GetByRole(Microsoft.Playwright.AriaRole.Group, new() { Name = "Trucks heard" }).Locator("tbody tr").CountAsync());
        var refused = window.Page.Locator("ul.rejects details", new() { HasText = "WrongUnit" });
        await refused.Locator("summary").ClickAsync();
        Assert.Equal(Refusals.Payload, await refused.Locator("pre").InnerTextAsync());
        Assert.Contains("the unit does not fit", await refused.InnerTextAsync(), StringComparison.Ordinal);
        Assert.Empty(window.Complaints);
    }

    [SkippableFact]
    public async Task Findings_AreFilteredByUrgency()
    {
        var board = await demo.LookAsync();
        await using var window = await demo.Browser.OpenAsync(board.Address);
        await window.GoAsync("/findings?urgency=Stop");
        using var findings = JsonDocument.Parse(await CommandLine.RunAsync(board.Folder, "findings", "--json"));
        var stop = findings.RootElement.EnumerateArray().Count(f => f.GetProperty("urgency").GetString() == "Stop");
        Assert.Equal(stop, await window.Page.Locator("main tbody tr").CountAsync());
        await window.Page.Locator("main tbody th a").First.ClickAsync();
        Assert.Contains("Check, in this order", await window.Page.Locator("main").InnerTextAsync(), StringComparison.Ordinal);
        Assert.True(await window.Page.Locator("ol.checks .caution").CountAsync() > 0);
    }

    [SkippableFact]
    public async Task WhatIsNotThere_SaysSoWithItsStatus()
    {
        var board = await demo.LookAsync();
        await using var window = await demo.Browser.OpenAsync(board.Address);
        foreach (var (path, said) in new[] { ("/trucks/T99", "No truck T99"), ("/findings/none", "No such finding"), ("/plan/T99", "T99 is not planned"), ("/nothing", "There is no such page") })
        {
            await window.GoAsync(path, 404);
            Assert.Contains(said, await window.Page.Locator("main").InnerTextAsync(), StringComparison.Ordinal);
        }
    }

    private static async Task<ILookup<string, string>> TrucksByUrgencyAsync(string folder)
    {
        using var findings = JsonDocument.Parse(await CommandLine.RunAsync(folder, "findings", "--json"));
        return findings.RootElement.EnumerateArray().Where(f => f.GetProperty("truck").ValueKind == JsonValueKind.String)
            .Select(f => (Urgency: f.GetProperty("urgency").GetString()!, Truck: f.GetProperty("truck").GetString()!)).Distinct().ToLookup(f => f.Urgency, f => f.Truck);
    }
}
