using System.Text;
using Vanehour.Fleet;
using Vanehour.Models.Findings;
using Vanehour.Scoring.Drills;

namespace Vanehour.Simulator.Tests.Drills;

/// <summary>Answers, seal, reveal and scores of a drill whose data is of no matter here.</summary>
public sealed class DrillFolderTests : IDisposable
{
    private static readonly DateTimeOffset Now = new(2026, 3, 2, 9, 0, 0, TimeSpan.Zero);

    private static readonly DrillTruth Truth = new()
    {
        Case = "secret-case",
        Truck = "T02",
        Cause = Cause.OilLeak,
        Onset = Now.AddDays(-200),
        FullAt = Now.AddDays(-190),
        Severity = 0.5,
        Found = true,
        TellTales = ["Oil use rises."],
        Measures = [new DrillMeasure("oil use", "L/h", 0.3, 0.5, 1)],
        Findings = [new DrillFinding("T02", FindingKind.OilUseHigh, Now.AddDays(-195), [Cause.OilLeak])],
        Elsewhere = [new DrillElsewhere(null, "It works.", "It drips.")],
        RightActions = [DrillAction.RepairThisWeek],
        AcceptableActions = [DrillAction.StopNow],
        Check = "Wipe dry and look.",
        Caution = "PTO off.",
        TruthLines = ["{\"type\":\"fault\",\"truck\":\"T02\"}"],
    };

    private static readonly DrillInfo Info = new()
    {
        Title = "Drinks oil",
        Difficulty = 2,
        Seed = 9,
        AsOf = Now.AddDays(-150),
        Complaint = "It drinks.",
        ComplainedTruck = "T02",
        Trucks = ["T01", "T02", "T03"],
        Answers = [],
    };

    private readonly string folder = Directory.CreateTempSubdirectory("vanehour-drill-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    // Worked by hand from the rule: truck 3, cause 5 (same part of the machine 2), action 2 (will do 1); nothing on the wrong truck.
    [Theory]
    [InlineData("T02", Cause.OilLeak, DrillAction.RepairThisWeek, 10)]
    [InlineData("T02", Cause.OilLeak, DrillAction.StopNow, 9)]
    [InlineData("T02", Cause.OilLeak, DrillAction.KeepWatching, 8)]
    [InlineData("T02", Cause.OilFeedHigh, DrillAction.RepairThisWeek, 7)]
    [InlineData("T02", Cause.LeakTankSide, DrillAction.RepairThisWeek, 5)]
    [InlineData("T02", null, DrillAction.KeepWatching, 3)]
    [InlineData("T01", Cause.OilLeak, DrillAction.RepairThisWeek, 0)]
    public void Scores(string truck, Cause? cause, DrillAction action, int total) =>
        Assert.Equal(total, DrillScorer.Of(Truth, new DrillAnswer("Ann", truck, cause, action, null, Now, 1)).Total);

    [Fact]
    public void WhereNothingIsWrong_OnlyNothingEarnsTheCause()
    {
        var healthy = Truth with { Cause = null, RightActions = [DrillAction.KeepWatching], AcceptableActions = [] };
        Assert.Equal(10, DrillScorer.Of(healthy, new DrillAnswer("Ann", "T02", null, DrillAction.KeepWatching, null, Now, 1)).Total);
        Assert.Equal(3, DrillScorer.Of(healthy, new DrillAnswer("Ann", "T02", Cause.OilLeak, DrillAction.StopNow, null, Now, 1)).Total);
    }

    [Fact]
    public void NeitherFile_SaysWhatIsWrong_BeforeTheReveal()
    {
        DrillFolder.Create(folder, Info, Truth);
        foreach (var file in Directory.GetFiles(folder))
        {
            var text = Encoding.Latin1.GetString(File.ReadAllBytes(file));
            Assert.DoesNotContain("OilLeak", text, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain("secret-case", text, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain("rises", text, StringComparison.OrdinalIgnoreCase);
        }

        Assert.False(File.Exists(Path.Combine(folder, DrillFolder.TruthName)));
        Assert.Null(DrillFolder.Open(folder).Revealed());
    }

    [Fact]
    public void TwoSealsOfTheSameTruth_Differ()
    {
        Assert.NotEqual(DrillSeal.Close(Truth, "a"), DrillSeal.Close(Truth, "a"));
        Assert.Equal("T02", DrillSeal.Open(DrillSeal.Close(Truth, "a"), "a")!.Truck);
        Assert.Null(DrillSeal.Open(DrillSeal.Close(Truth, "a"), "b"));
        Assert.Null(DrillSeal.Open([], "a"));
    }

    [Fact]
    public void ASecondAnswer_ReplacesTheFirst_AndCounts()
    {
        var drill = DrillFolder.Create(folder, Info, Truth);
        Assert.True(drill.Submit("t01", Cause.OilLeak, DrillAction.StopNow, " Ann ", null, Now).Accepted);
        Assert.True(drill.Submit("T03", null, DrillAction.KeepWatching, "Ben", "  ", Now.AddMinutes(1)).Accepted);
        var second = drill.Submit("T02", Cause.OilLeak, DrillAction.RepairThisWeek, "ANN", "wet patch", Now.AddMinutes(2));
        Assert.Equal("Kept as attempt 2: Ann now says T02, OilLeak, RepairThisWeek; the answer before no longer counts.", second.Sentence);

        var reveal = drill.Reveal(Now.AddHours(1));
        Assert.Equal([("Ann", 10, 2), ("Ben", 0, 1)], reveal.Scores.Select(s => (s.Answer.By, s.Total, s.Answer.Attempts)));
        Assert.Equal(["wet patch", null], reveal.Scores.Select(s => s.Answer.Note));
        Assert.Equal(Truth.TruthLines, File.ReadAllLines(Path.Combine(folder, DrillFolder.TruthName)));
    }

    [Fact]
    public void AfterTheReveal_NothingIsTaken_AndItShowsTheSame()
    {
        var drill = DrillFolder.Create(folder, Info, Truth);
        drill.Submit("T02", Cause.OilFeedHigh, DrillAction.StopNow, "Ann", null, Now);
        var first = drill.Reveal(Now.AddHours(1));
        var late = drill.Submit("T02", Cause.OilLeak, DrillAction.RepairThisWeek, "Ben", null, Now.AddHours(2));
        Assert.False(late.Accepted);
        Assert.StartsWith("This drill was revealed on 2026-03-02 10:00Z", late.Sentence, StringComparison.Ordinal);

        var again = DrillFolder.Open(folder).Reveal(Now.AddHours(3));
        Assert.Equal(Now.AddHours(1), again.Drill.RevealedAt);
        Assert.Equal(first.Scores.AsEnumerable(), again.Scores.AsEnumerable());
        Assert.Equal(Cause.OilLeak, DrillFolder.Open(folder).Revealed()!.Truth.Cause);
    }

    [Theory]
    [InlineData("T09", Cause.OilLeak, DrillAction.StopNow, "Ann", "There is no truck 'T09' in this drill; its trucks are T01, T02, T03.")]
    [InlineData("T02", Cause.OilLeak, DrillAction.StopNow, "  ", "Say who answers")]
    [InlineData("T02", Cause.OilLeak, DrillAction.StopNow, "A\u001bnn", "Say who answers")]
    [InlineData("T02", Cause.StoreSlow, DrillAction.StopNow, "Ann", "The cause or the action")]
    [InlineData("T02", Cause.OilLeak, (DrillAction)99, "Ann", "The cause or the action")]
    public void WhatIsNoAnswer_IsRefused_AndNothingIsKept(string truck, Cause cause, DrillAction action, string by, string sentence)
    {
        var drill = DrillFolder.Create(folder, Info, Truth);
        var result = drill.Submit(truck, cause, action, by, null, Now);
        Assert.StartsWith(sentence, result.Sentence, StringComparison.Ordinal);
        Assert.Empty(drill.Read().Answers);
    }

    [Fact]
    public void AFolderThatHoldsNoDrill_OrSomethingElse_IsRefused()
    {
        Assert.Throws<DrillRefusedException>(() => DrillFolder.Open(folder));
        DrillFolder.RequireEmpty(folder);
        DrillFolder.RequireEmpty(Path.Combine(folder, "missing"));
        File.WriteAllText(Path.Combine(folder, "notes.txt"), "mine");
        Assert.Throws<DrillRefusedException>(() => DrillFolder.RequireEmpty(folder));
    }

    [Fact]
    public void ADrillThatWasChanged_IsNotRevealed()
    {
        var drill = DrillFolder.Create(folder, Info, Truth);
        var info = Path.Combine(folder, DrillFolder.FileName);
        var text = File.ReadAllText(info);
        File.WriteAllText(info, text.Replace("\"seed\": 9", "\"seed\": 10", StringComparison.Ordinal));
        Assert.Throws<DrillRefusedException>(() => drill.Reveal(Now));

        File.WriteAllText(info, text);
        var seal = Path.Combine(folder, DrillFolder.SealedName);
        var bytes = File.ReadAllBytes(seal);
        bytes[^1] ^= 1;
        File.WriteAllBytes(seal, bytes);
        Assert.Throws<DrillRefusedException>(() => drill.Reveal(Now));

        File.Delete(seal);
        Assert.Throws<DrillRefusedException>(() => drill.Reveal(Now));
        File.WriteAllText(info, "{}");
        Assert.Throws<DrillRefusedException>(() => drill.Read());
    }

    [Fact]
    public async Task AWholeClassAtOnce_LosesNoAnswer()
    {
        DrillFolder.Create(folder, Info, Truth);
        await Task.WhenAll(Enumerable.Range(1, 20).Select(i => Task.Run(() => DrillFolder.Open(folder).Submit("T02", Cause.OilLeak, DrillAction.StopNow, $"Trainee {i}", null, Now))));
        Assert.Equal(20, DrillFolder.Open(folder).Read().Answers.Select(a => a.By).Distinct().Count());
    }
}
