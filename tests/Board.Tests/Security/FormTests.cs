using System.Net;
using Vanehour.Board.Tests.Browsing;
using Vanehour.Board.Tests.Running;

namespace Vanehour.Board.Tests.Security;

/// <summary>Forms that did not come from a page of the Board, or that lead away from it.</summary>
[Collection(OnDemoFleet.Name)]
public sealed class FormTests(DemoFleet demo)
{
    [Fact]
    public async Task AFormWithoutTheBoardsTokenChangesNothing()
    {
        await using var board = await RunningBoard.StartAsync(demo.Copy());
        using var visitor = new Visitor(board);
        using var other = new Visitor(board);
        var pages = BoardPages.Of(board.Folder);
        var (truck, finding) = (pages[1].Split('/')[^1], pages[7].Split('/')[^1]);
        var stolen = await other.TokenAsync("/plan");
        await visitor.GetAsync("/plan");
        var before = await StateAsync(board.Folder);
        (string Path, (string, string)[] Fields)[] forms =
        [
            ("/do/record", [("truck", truck), ("kind", "inlet_filter"), ("by", "Mallory")]),
            ("/do/delete-record", [("id", "T02-002"), ("by", "Mallory")]),
            ("/do/acknowledge", [("id", finding), ("by", "Mallory")]),
            ("/do/close", [("id", finding), ("cause", "None"), ("by", "Mallory")]),
            ("/do/pin", [("truck", truck), ("week", "2026-W30"), ("by", "Mallory")]),
            ("/do/unpin", [("truck", truck), ("by", "Mallory")]),
            ("/do/block", [("from", "2026-W30"), ("by", "Mallory")]),
            ("/do/unblock", [("id", "1"), ("by", "Mallory")]),
            ("/do/round", [("truck", truck), ("what", "daily"), ("by", "Mallory")]),
            ("/do/analyse", []),
            ("/do/answer", [("truck", truck), ("by", "Mallory")]),
            ("/do/reveal", [("by", "Mallory")]),
            ("/sign-in", [("name", "a"), ("password", "b")]),
            ("/sign-out", []),
        ];
        foreach (var (path, fields) in forms)
        {
            using var none = await visitor.PostRawAsync(path, fields);
            Assert.Equal(HttpStatusCode.BadRequest, none.StatusCode);
            using var foreign = await visitor.PostRawAsync(path, [.. fields, ("__RequestVerificationToken", stolen)]);
            Assert.Equal(HttpStatusCode.BadRequest, foreign.StatusCode);
            Assert.Contains("too old or not from this Board", await foreign.Content.ReadAsStringAsync(), StringComparison.Ordinal);
            using var looked = await visitor.GetAsync(path == "/sign-in" ? "/do/record" : path);
            Assert.True(looked.StatusCode is HttpStatusCode.MethodNotAllowed or HttpStatusCode.NotFound, $"GET {path}: {looked.StatusCode}");
        }

        Assert.Equal(before, await StateAsync(board.Folder));
        Assert.False(File.Exists(Path.Combine(board.Folder, "board-deeds.jsonl")));
        Assert.Contains("\"analysing\":false", await visitor.TextAsync("/api/stamp"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("//evil.example")]
    [InlineData("https://evil.example/")]
    [InlineData("/\\evil.example")]
    [InlineData("\\\\evil.example")]
    [InlineData("/\t/evil.example")]
    [InlineData("javascript:alert(1)")]
    [InlineData("evil.example")]
    [InlineData("")]
    public async Task AFormComesBackToTheBoardWhateverItSays(string back)
    {
        var board = await demo.LookAsync();
        using var visitor = new Visitor(board);
        using var answer = await visitor.PostAsync("/plan", "/do/unpin", ("truck", "T01"), ("by", "Ann"), ("back", back));
        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
        Assert.Equal("/#said", answer.Headers.Location!.OriginalString);
    }

    /// <summary>A disk that is full once the deed is done: it is said to be done. A note that cannot even be begun: nothing is done.</summary>
    [SkippableFact]
    public async Task WhatIsDoneIsNeverSaidToBeUndone()
    {
        Skip.IfNot(OperatingSystem.IsLinux(), "Needs /dev/full.");
        await using var board = await RunningBoard.StartAsync(demo.Copy());
        using var visitor = new Visitor(board);
        var notes = Path.Combine(board.Folder, "board-deeds.jsonl");
        File.CreateSymbolicLink(notes, "/dev/full");
        using (await visitor.PostAsync("/plan", "/do/round", ("truck", "T02"), ("what", "weekly"), ("by", "Ann"), ("back", "/plan")))
        {
            var page = await visitor.TextAsync("/plan");
            Assert.Contains("Marked: weekly on T02 by Ann", page, StringComparison.Ordinal);
            Assert.Contains("could not be noted", page, StringComparison.Ordinal);
        }

        File.Delete(notes);
        Directory.CreateDirectory(notes);
        var before = await StateAsync(board.Folder);
        using (await visitor.PostAsync("/plan", "/do/round", ("truck", "T03"), ("what", "weekly"), ("by", "Ann"), ("back", "/plan")))
        {
            Assert.Contains("Nothing was done, since who did it cannot be noted", await visitor.TextAsync("/plan"), StringComparison.Ordinal);
        }

        Assert.Equal(before, await StateAsync(board.Folder));
    }

    [Fact]
    public async Task WhatIsTooLongOrBadlyFormedIsRefusedInWords()
    {
        await using var board = await RunningBoard.StartAsync(demo.Copy());
        using var visitor = new Visitor(board);
        foreach (var (path, fields, said) in new (string, (string, string)[], string)[]
        {
            ("/do/record", [("truck", "--data=/tmp/x"), ("kind", "inlet_filter"), ("by", "Ann")], "Choose the truck."),
            ("/do/record", [("truck", "@/etc/hostname"), ("kind", "inlet_filter"), ("by", "Ann")], "Choose the truck."),
            ("/do/record", [("truck", "T01"), ("kind", "--help"), ("by", "Ann")], "Choose what was done."),
            ("/do/record", [("truck", "T01"), ("kind", "inlet_filter")], "Say who you are"),
            ("/do/record", [("truck", "T01"), ("kind", "inlet_filter"), ("by", "Ann"), ("note", new string('x', 501))], "more than 500 characters"),
            ("/do/acknowledge", [("id", "@/etc/hostname"), ("by", "Ann")], "There is no finding @/etc/hostname"),
            ("/do/acknowledge", [("id", "/h"), ("by", "Ann")], "There is no finding /h"),
            ("/do/acknowledge", [("id", "--help"), ("by", "Ann")], "There is no finding --help"),
            ("/do/close", [("id", "x"), ("by", "Ann")], "Choose what was found."),
            ("/do/pin", [("truck", "T01"), ("week", "--help"), ("by", "Ann")], "Choose the week."),
            ("/do/unblock", [("id", "--help"), ("by", "Ann")], "That is no block."),
            ("/do/round", [("truck", "T01"), ("what", "--help"), ("by", "Ann")], "Choose the round."),
        })
        {
            using var answer = await visitor.PostAsync("/plan", path, [.. fields, ("back", "/plan")]);
            Assert.Equal("/plan#said", answer.Headers.Location!.OriginalString);
            var page = await visitor.TextAsync("/plan");
            Assert.Contains(said, page, StringComparison.Ordinal);
            Assert.Contains("Not done", page, StringComparison.Ordinal);
        }

        using var large = await visitor.PostAsync("/plan", "/do/record", ("note", new string('x', 100_000)));
        Assert.True((int)large.StatusCode is 400 or 413, large.StatusCode.ToString());
    }

    internal static async Task<string> StateAsync(string folder) => string.Join(
        '\n',
        await CommandLine.RunAsync(folder, "record", "history", "--json"),
        await CommandLine.RunAsync(folder, "findings", "--all", "--json"),
        await CommandLine.RunAsync(folder, "plan", "marks", "--json"),
        await CommandLine.RunAsync(folder, "rounds", "--all", "--json"));
}
