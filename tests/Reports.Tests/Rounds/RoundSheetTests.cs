using Vanehour.Fleet;
using Vanehour.Models.Findings;
using Vanehour.Models.Rounds;
using Vanehour.Reports.Rounds;

namespace Vanehour.Reports.Tests.Rounds;

public sealed class RoundSheetTests
{
    [Fact]
    public void EveryCheck_IsThereOnce_InFull_AndNothingOverlaps()
    {
        var rounds = RoundStories.Tell(DriveKind.Gearbox, true, "Ann");
        using var page = RoundSheet.Draw(rounds, new ReportOptions { Scale = 1 });
        PageAssert.TextsAreClear(page);
        foreach (var item in rounds.Items)
        {
            Assert.Single(page.Context.Texts, t => t.Text == item.Check.Text || t.Text == item.Check.Text + " (if fitted)");
        }

        Assert.DoesNotContain(page.Context.Texts, t => t.Text.EndsWith('…'));
    }

    [Fact]
    public void ATruckOfWhichNothingIsKnown_WithLongNames_StillFits()
    {
        var rounds = RoundStories.Tell(null, null, "Bartholomew of the Night Shift", new string('N', 80), string.Join(' ', Enumerable.Repeat("Yard", 40)));
        using var page = RoundSheet.Draw(rounds, new ReportOptions { Scale = 1, Simulated = true });
        PageAssert.TextsAreClear(page);
        Assert.Contains(page.Context.Texts, t => t.Text.EndsWith("(if fitted)", StringComparison.Ordinal));
        Assert.Contains(page.Context.Texts, t => t.Text == "SIMULATED DATA");
    }

    [Fact]
    public void WhatAFindingAsksFor_StandsFirst_WithItsReason()
    {
        using var page = RoundSheet.Draw(RoundStories.Tell(DriveKind.Direct, false, "Ann"), new ReportOptions { Scale = 1 });
        var texts = page.Context.Texts;
        var heading = texts.Single(t => t.Text == "Now: the data asks for it");
        var daily = texts.Single(t => t.Text == "Daily round: every day of work");
        var flush = texts.Single(t => t.Text == RoundTable.Default.Find("flush")!.Text);
        Assert.True(heading.Box.Top < flush.Box.Top && flush.Box.Top < daily.Box.Top);
        Assert.Contains(texts, t => t.Text == "because of running hot since 9 Mar 2026 (finding 3fa9c01b7e)");
        Assert.DoesNotContain(texts, t => t.Text.Contains("Deodoriser", StringComparison.Ordinal) || t.Text.Contains("Gearbox", StringComparison.Ordinal));
    }

    [Fact]
    public void WhatTheDataSaw_IsSaid_AndWhatIsLate()
    {
        using var page = RoundSheet.Draw(RoundStories.Tell(DriveKind.Gearbox, true, "Ann"), new ReportOptions { Scale = 1 });
        Assert.Contains(page.Context.Texts, t => t.Text == "seen 08:02");
        Assert.Contains(page.Context.Texts, t => t.Text == "23 Feb, Ann");
        Assert.Contains(page.Context.Texts, t => t.Text == "OVERDUE 2 Mar");
        Assert.Contains(page.Context.Texts, t => t.Text == "not kept");
    }

    [Fact]
    public void ABoxTickedByTheData_HoldsInk_AnEmptyOneDoesNot()
    {
        var with = RoundSheet.Render(RoundStories.Tell(DriveKind.Gearbox, true, "Ann"), new ReportOptions { Scale = 1 });
        var rounds = RoundStories.Tell(DriveKind.Gearbox, true, "Ann");
        var without = RoundSheet.Render(
            rounds with { Items = [.. rounds.Items.Select(i => i.LastDone?.Evidence == RoundEvidence.StartUpCheck ? i with { LastDone = i.LastDone with { Evidence = RoundEvidence.StartUpCheck }, DaysSince = 1 } : i)] },
            new ReportOptions { Scale = 1 });
        Assert.NotEqual(with, without);
        Assert.Equal(with, RoundSheet.Render(RoundStories.Tell(DriveKind.Gearbox, true, "Ann"), new ReportOptions { Scale = 1 }));
    }

    [Fact]
    public void EveryCautionOfAnyCheck_HasItsPlaceOnTheSheet()
    {
        using var page = RoundSheet.Draw(RoundStories.Tell(DriveKind.Gearbox, true, "Ann"), new ReportOptions { Scale = 1 });
        var all = string.Join(' ', page.Context.Texts.Select(t => t.Text));
        foreach (var name in RoundTable.Default.Checks.SelectMany(c => c.Cautions).Distinct())
        {
            Assert.Contains(Knowledge.Default.Cautions[name], all, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void FilesAreNamedByTruck_AndKeptApartWhereIdsDifferByCase()
    {
        var folder = Directory.CreateTempSubdirectory("vanehour-rounds-").FullName;
        try
        {
            var upper = RoundStories.Tell(DriveKind.Direct, false, "Ann");
            var lower = upper with { Truck = upper.Truck with { Id = "t1" } };
            Assert.Equal(["rounds-T1.png"], ReportWriter.WriteRounds([upper], [upper.Truck], folder, new ReportOptions { Scale = 1 }).Select(Path.GetFileName));
            var files = ReportWriter.WriteRounds([upper, lower], [upper.Truck, lower.Truck], folder, new ReportOptions { Scale = 1 });
            Assert.Equal(2, files.Distinct(StringComparer.OrdinalIgnoreCase).Count());
            Assert.All(files, f => Assert.True(File.Exists(f)));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
