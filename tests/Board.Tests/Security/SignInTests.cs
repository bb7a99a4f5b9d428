using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;
using Vanehour.Board.Tests.Browsing;
using Vanehour.Board.Tests.Running;

namespace Vanehour.Board.Tests.Security;

/// <summary>A Board on which people sign in.</summary>
[Collection(OnDemoFleet.Name)]
public sealed partial class SignInTests(DemoFleet demo)
{
    private const string Ann = "seven green lorries";
    private const string Vic = "eleven quiet pumps";

    [Fact]
    public async Task WithoutSigningInNothingIsSeenButHowToSignIn()
    {
        await using var board = await StartAsync();
        using var visitor = new Visitor(board);
        foreach (var path in BoardPages.Of(board.Folder).Where(p => p != "/sign-in").Concat(["/tables/plan.csv", "/calendars/plan.ics", "/pictures/plan.png", "/nothing"]))
        {
            using var answer = await visitor.GetAsync(path);
            Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
            Assert.Equal("/sign-in?to=" + Uri.EscapeDataString(path), answer.Headers.Location!.OriginalString);
            Assert.Equal("", await answer.Content.ReadAsStringAsync());
        }

        foreach (var path in new[] { "/api/plan", "/api/stamp", "/api/nothing" })
        {
            using var answer = await visitor.GetAsync(path);
            Assert.Equal(HttpStatusCode.Unauthorized, answer.StatusCode);
        }

        using var form = await visitor.PostAsync("/sign-in", "/do/unpin", ("truck", "T02"), ("by", "Ann"));
        Assert.Equal(HttpStatusCode.Unauthorized, form.StatusCode);
        var page = await visitor.TextAsync("/sign-in");
        Assert.DoesNotContain("Analysed as of", page, StringComparison.Ordinal);
        Assert.DoesNotContain("data-stamp", page, StringComparison.Ordinal);

        // Its looks are there.
        foreach (Match asset in Asset().Matches(page))
        {
            using var answer = await visitor.GetAsync(asset.Value);
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        }
    }

    /// <summary>A path keeps its escapes on the way round by the page to sign in, and a form of somebody who is out leads there.</summary>
    [Fact]
    public async Task OddPathsComeThroughTheSignIn_AndSoDoForms()
    {
        await using var board = await StartAsync();
        using var visitor = new Visitor(board);
        using var asked = await visitor.GetAsync("/trucks/%C3%A9%3F%23?yard=N%C3%B6rd");
        Assert.Equal("/sign-in?to=" + Uri.EscapeDataString("/trucks/%C3%A9%3F%23?yard=N%C3%B6rd"), asked.Headers.Location!.OriginalString);
        using var signedIn = await visitor.SignInAsync("Ann", Ann, "/trucks/%C3%A9%3F%23?yard=N%C3%B6rd");
        Assert.Equal("/trucks/%C3%A9%3F%23?yard=N%C3%B6rd", signedIn.Headers.Location!.OriginalString);

        using var other = new Visitor(board);
        using var form = new HttpRequestMessage(HttpMethod.Post, new Uri("/do/unpin", UriKind.Relative));
        form.Headers.Accept.ParseAdd("text/html");
        form.Headers.Referrer = new Uri(board.Address, "/plan?x=1");
        using var answer = await other.SendAsync(form);
        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
        Assert.Equal("/sign-in?to=" + Uri.EscapeDataString("/plan?x=1"), answer.Headers.Location!.OriginalString);
    }

    /// <summary>Whatever is wrong with the people's file: nobody gets in, and a sentence says why.</summary>
    [Fact]
    public async Task APeopleFileThatCannotBeReadLetsNobodyInAndSaysSo()
    {
        await using var board = await StartAsync();
        using var visitor = new Visitor(board);
        (await visitor.SignInAsync("Ann", Ann)).Dispose();
        File.WriteAllText(Path.Combine(board.Folder, "board-people.json"), "[{");
        using var answer = await visitor.GetAsync("/");
        Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.StatusCode);
        Assert.Contains("cannot be read", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task AViewerLooksAndAnEditorSignsWithTheOwnName()
    {
        await using var board = await StartAsync();
        using var wrong = new Visitor(board);
        using (var answer = await wrong.SignInAsync("Ann", Vic))
        {
            Assert.StartsWith("/sign-in?again=1", answer.Headers.Location!.OriginalString, StringComparison.Ordinal);
        }

        Assert.Contains("do not go together", await wrong.TextAsync("/sign-in?again=1"), StringComparison.Ordinal);
        using (var nobody = await wrong.SignInAsync("Nobody", Vic))
        {
            Assert.StartsWith("/sign-in?again=1", nobody.Headers.Location!.OriginalString, StringComparison.Ordinal);
        }

        using var viewer = new Visitor(board);
        using (var answer = await viewer.SignInAsync("Vic", Vic, "/plan"))
        {
            Assert.Equal("/plan", answer.Headers.Location!.OriginalString);
            var cookie = Assert.Single(answer.Headers.GetValues("Set-Cookie"), c => c.StartsWith("vanehour-who=", StringComparison.Ordinal));
            Assert.Contains("httponly", cookie, StringComparison.Ordinal);
            Assert.Contains("samesite=lax", cookie, StringComparison.Ordinal);
        }

        foreach (var path in BoardPages.Of(board.Folder).Where(p => p != "/sign-in"))
        {
            var html = await viewer.TextAsync(path);
            Assert.DoesNotContain("action=\"/do/", html, StringComparison.Ordinal);
            Assert.Contains("Sign out", html, StringComparison.Ordinal);
        }

        var before = await FormTests.StateAsync(board.Folder);
        foreach (var path in new[] { "/do/record", "/do/pin", "/do/analyse", "/do/round", "/do/close" })
        {
            using var answer = await viewer.PostAsync("/plan", path, ("truck", "T02"), ("kind", "inlet_filter"), ("week", "2026-W30"), ("what", "daily"), ("by", "Ann"));
            Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        }

        Assert.Equal(before, await FormTests.StateAsync(board.Folder));

        using var editor = new Visitor(board);
        using (await editor.SignInAsync("ann", Ann))
        {
        }

        Assert.DoesNotContain("name=\"by\"", await editor.TextAsync("/trucks/T02"), StringComparison.Ordinal);
        using (var answer = await editor.PostAsync("/trucks/T02", "/do/record", ("truck", "T02"), ("kind", "inlet_filter"), ("date", "2026-05-04T20:00"), ("note", "signed"), ("by", "Mallory"), ("back", "/trucks/T02")))
        {
            Assert.Equal("/trucks/T02#said", answer.Headers.Location!.OriginalString);
        }

        using var history = JsonDocument.Parse(await CommandLine.RunAsync(board.Folder, "record", "history", "T02", "--json"));
        Assert.Contains("\"Ann\"", history.RootElement.GetRawText(), StringComparison.Ordinal);
        Assert.DoesNotContain("Mallory", history.RootElement.GetRawText(), StringComparison.Ordinal);
        var deeds = await File.ReadAllTextAsync(Path.Combine(board.Folder, "board-deeds.jsonl"));
        Assert.Contains("\"by\":\"Ann\"", deeds, StringComparison.Ordinal);
        Assert.DoesNotContain("Mallory", deeds, StringComparison.Ordinal);

        using (await editor.PostAsync("/plan", "/sign-out"))
        {
        }

        await AssertOutAsync(editor);
    }

    [Fact]
    public async Task WhoIsRemovedOrGetsAnotherPasswordOrRoleIsOutWithTheNextRequest()
    {
        await using var board = await StartAsync();
        using var ann = new Visitor(board);
        using var vic = new Visitor(board);
        using var again = new Visitor(board);
        foreach (var (visitor, name, password) in new[] { (ann, "Ann", Ann), (vic, "Vic", Vic), (again, "Ann", Ann) })
        {
            using var answer = await visitor.SignInAsync(name, password);
            await visitor.TextAsync("/plan");
        }

        await CommandLine.RunAsync(board.Folder, "user", "remove", "Vic");
        await AssertOutAsync(vic);
        await CommandLine.AddPersonAsync(board.Folder, "Ann", "another long password", "editor");
        await AssertOutAsync(ann);
        await AssertOutAsync(again);
        using (var old = await ann.SignInAsync("Ann", Ann))
        {
            Assert.Contains("again=1", old.Headers.Location!.OriginalString, StringComparison.Ordinal);
        }

        using (await ann.SignInAsync("Ann", "another long password"))
        {
        }

        await ann.TextAsync("/plan");
        await CommandLine.AddPersonAsync(board.Folder, "Ann", "another long password", "viewer");
        await AssertOutAsync(ann);
    }

    [Fact]
    public async Task TooManyTriesAreRefusedForAWhile()
    {
        await using var board = await StartAsync(("Board__SignInTries", "3"));
        using var visitor = new Visitor(board);
        for (var i = 0; i < 3; i++)
        {
            using var wrong = await visitor.SignInAsync("Ann", "wrong password " + i);
            Assert.Equal(HttpStatusCode.Redirect, wrong.StatusCode);
        }

        using var answer = await visitor.SignInAsync("Ann", Ann);
        Assert.Equal(HttpStatusCode.TooManyRequests, answer.StatusCode);
        Assert.Contains("wait five minutes", await answer.Content.ReadAsStringAsync(), StringComparison.OrdinalIgnoreCase);
        await AssertOutAsync(visitor);
    }

    [Fact]
    public async Task SigningInLeadsNowhereElse()
    {
        await using var board = await StartAsync(("Board__SignInTries", "100"));
        foreach (var to in new[] { "//evil.example", "https://evil.example/", "/\\evil.example", "\\\\evil.example", "/\t/evil.example", "javascript:alert(1)", "evil.example", "", "/sign-in?to=/", "/plan/../..//evil.example" })
        {
            using var visitor = new Visitor(board);
            using var answer = await visitor.SignInAsync("Ann", Ann, to);
            Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
            Assert.Equal(board.Address.Authority, new Uri(board.Address, answer.Headers.Location!).Authority);
            Assert.DoesNotContain("sign-in", answer.Headers.Location!.OriginalString, StringComparison.Ordinal);
        }
    }

    /// <summary>The page with which somebody signs in works, without a script too.</summary>
    [SkippableTheory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task SigningInComesToThePageThatWasAskedFor(bool javaScript)
    {
        await using var board = await StartAsync();
        await using var window = await demo.Browser.OpenAsync(board.Address, new() { JavaScriptEnabled = javaScript });
        await window.GoAsync("/findings?urgency=Stop");
        await window.Page.GetByLabel("Name").FillAsync("Ann");
        await window.Page.GetByLabel("Password").FillAsync(Ann);
        await window.Page.GetByRole(Microsoft.Playwright.AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        await window.Page.WaitForURLAsync("**/findings?urgency=Stop");
        Assert.Contains("Ann", await window.Page.Locator(".who").InnerTextAsync(), StringComparison.Ordinal);
        await window.Page.GetByRole(Microsoft.Playwright.AriaRole.Button, new() { Name = "Sign out" }).ClickAsync();
        await window.Page.WaitForURLAsync("**/sign-in");
        Assert.Empty(window.Complaints);
    }

    private async Task<RunningBoard> StartAsync(params (string Key, string Value)[] settings)
    {
        var folder = demo.Copy();
        await CommandLine.AddPersonAsync(folder, "Ann", Ann, "editor");
        await CommandLine.AddPersonAsync(folder, "Vic", Vic, "viewer");
        return await RunningBoard.StartAsync(folder, settings);
    }

    private static async Task AssertOutAsync(Visitor visitor)
    {
        using var page = await visitor.GetAsync("/plan");
        Assert.Equal(HttpStatusCode.Redirect, page.StatusCode);
        using var api = await visitor.GetAsync("/api/plan");
        Assert.Equal(HttpStatusCode.Unauthorized, api.StatusCode);
    }

    [GeneratedRegex("/assets/[^\"]+")]
    private static partial Regex Asset();
}
