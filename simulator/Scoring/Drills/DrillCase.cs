using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Models.Findings;

namespace Vanehour.Scoring.Drills;

/// <summary>A row of the case table cases.json: one kind of drill. Sizes and times are invented.</summary>
public sealed record DrillCase
{
    /// <summary>The instructor's short name; it gives the cause away.</summary>
    public required string Id { get; init; }

    /// <summary>What trainees may see; several cases share a title, so that it names a symptom and no cause.</summary>
    public required string Title { get; init; }

    /// <summary>1 (one clear sign), 2 (signs must be weighed) or 3 (the signs mislead, or the truck is not named).</summary>
    public required int Difficulty { get; init; }

    /// <summary>What is wrong; null: nothing is.</summary>
    public Cause? Cause { get; init; }

    /// <summary>Which of the ways in which the cause can show, 0 or more.</summary>
    public int Variant { get; init; }

    /// <summary>Least and greatest severity, above 0, at most 1; the seed draws one between them. Says nothing of worn vanes and of healthy cases.</summary>
    public required ImmutableArray<double> Severity { get; init; }

    /// <summary>Months of data, 4 or 5; several cases share each, so that the length tells nothing.</summary>
    public required int Months { get; init; }

    /// <summary>Least and greatest number of days before the end at which it began. Says nothing of worn vanes and of healthy cases.</summary>
    public required ImmutableArray<int> BeganDaysBeforeEnd { get; init; }

    /// <summary>Days from its beginning to full severity, 0 or more.</summary>
    public int GrowthDays { get; init; }

    /// <summary>Numbers of the trucks that may carry it, 1 to <see cref="DrillFleet.Trucks"/>; the seed draws one.</summary>
    public required ImmutableArray<int> Trucks { get; init; }

    /// <summary>Whether the complaint names the truck.</summary>
    public required bool NamesTruck { get; init; }

    /// <summary>What the driver said.</summary>
    public required string Complaint { get; init; }

    /// <summary>Whether at seed 1 the analysis opens a finding on the truck with the cause among its first three. False marks a hard case whose cause the trainee has to find without it, and a healthy one. Other seeds may differ; the reveal shows what was really found.</summary>
    public required bool Found { get; init; }

    /// <summary>Actions that earn all points.</summary>
    public required ImmutableArray<DrillAction> RightActions { get; init; }

    /// <summary>Actions that earn half of them.</summary>
    public required ImmutableArray<DrillAction> AcceptableActions { get; init; }

    /// <summary>What the charts and the complaint say to one who can read them, a sentence each.</summary>
    public required ImmutableArray<string> TellTales { get; init; }

    /// <summary>What points elsewhere.</summary>
    public required ImmutableArray<DrillElsewhere> Elsewhere { get; init; }

    /// <summary>The kind of finding under which the knowledge table has the check that settles it.</summary>
    public required FindingKind CheckKind { get; init; }

    /// <summary>The cause whose check it is; null: that of the case.</summary>
    public Cause? CheckCause { get; init; }
}
