using System.Text.RegularExpressions;
using Vanehour.Fleet;
using Vanehour.Models.Findings;
using Vanehour.Scoring.Drills;

namespace Vanehour.Simulator.Tests.Drills;

/// <summary>The case table.</summary>
public sealed class DrillCasesTests
{
    // What only somebody who knows the answer would say.
    private static readonly Regex Telling = new(@"\b(leak\w*|filter\w*|lining\w*|vanes?|relief|float\w*|coupling\w*|carbon\w*|sensor\w*|gateway\w*|chok\w*|carry-?over|overspeed\w*|over-?fe\w*)\b", RegexOptions.IgnoreCase);

    private static DrillCases Table => DrillCases.Default;

    [Fact]
    public void ThereAreEnough_OfEveryDifficulty_WithNamesOfTheirOwn()
    {
        Assert.True(Table.Cases.Length >= 12);
        Assert.All(new[] { 1, 2, 3 }, d => Assert.True(Table.Cases.Count(c => c.Difficulty == d) >= 4, $"difficulty {d}"));
        Assert.Equal(Table.Cases.Length, Table.Cases.Select(c => c.Id).Distinct(StringComparer.OrdinalIgnoreCase).Count());
        Assert.DoesNotContain(Table.Cases, c => c.Id == DrillCases.Random || int.TryParse(c.Id, out _));
        Assert.Contains(Table.Cases, c => c.Cause is null);
        Assert.True(Table.Cases.Select(c => c.Cause).Distinct().Count() >= 12);
    }

    [Fact]
    public void EveryCaseIsSound()
    {
        Assert.All(Table.Cases, c =>
        {
            Assert.InRange(c.Difficulty, 1, 3);
            Assert.InRange(c.Months, 4, 5);
            Assert.True(c.Severity is [> 0 and var low, <= 1 and var high] && low <= high, c.Id);
            Assert.True(c.BeganDaysBeforeEnd is [> 7 and var late, < 60 and var early] && late <= early, c.Id);
            Assert.True(c.GrowthDays >= 0 && c.GrowthDays < c.BeganDaysBeforeEnd[0], c.Id);
            Assert.True(c.Trucks.Length >= 2 && c.Trucks.All(t => t is >= 1 and <= DrillFleet.Trucks), c.Id);
            Assert.NotEmpty(c.RightActions);
            Assert.Empty(c.RightActions.Intersect(c.AcceptableActions));
            Assert.NotEmpty(c.TellTales);
            Assert.NotEmpty(c.Elsewhere);
            Assert.DoesNotContain(c.Elsewhere, e => e.Cause == c.Cause);
            Assert.True(c.Cause is not null || c.NamesTruck, $"{c.Id}: where nothing is wrong only the complaint says which truck is meant.");
        });
    }

    [Fact]
    public void TitlesAndComplaints_DoNotNameTheCause()
    {
        Assert.All(Table.Cases, c => Assert.DoesNotMatch(Telling, $"{c.Title} {c.Complaint}"));

        // A title that only one cause has would give it away; at least the common symptoms are shared.
        Assert.True(Table.Cases.Count(c => c.Title == "Weak suction") >= 5);
    }

    [Fact]
    public void EveryCheckIsInTheKnowledgeTable_WithACaution() => Assert.All(Table.Cases, c =>
    {
        var row = Knowledge.Default.Of(c.CheckKind)?.Causes.FirstOrDefault(k => k.Cause == (c.CheckCause ?? c.Cause));
        Assert.True(row is { Cautions.Length: > 0 }, c.Id);
    });

    [Fact]
    public void EveryCauseOfATruck_IsInOneGroup()
    {
        Cause[] installation = [Cause.StoreUnreachable, Cause.StoreRefusing, Cause.StoreSlow];
        Assert.Equal(Enum.GetValues<Cause>().Except(installation).Order(), Table.Groups.SelectMany(g => g.Causes).Order());
        Assert.True(Table.SameGroup(Cause.OilLeak, Cause.OilFeedHigh));
        Assert.False(Table.SameGroup(Cause.OilLeak, Cause.LeakTankSide));
    }

    [Fact]
    public void TheSeedDraws_TheSameForAClass_AndEveryCaseSometime()
    {
        for (var difficulty = 1; difficulty <= 3; difficulty++)
        {
            var drawn = Enumerable.Range(1, 300).Select(s => Table.Draw(difficulty, s)).ToList();
            Assert.Equal(drawn, Enumerable.Range(1, 300).Select(s => Table.Draw(difficulty, s)));
            Assert.All(drawn, c => Assert.Equal(difficulty, c.Difficulty));
            Assert.Equal(Table.Cases.Count(c => c.Difficulty == difficulty), drawn.Distinct().Count());
        }

        Assert.Equal(Table.Cases.Length, Enumerable.Range(1, 1000).Select(s => Table.Draw(null, s)).Distinct().Count());
    }
}
