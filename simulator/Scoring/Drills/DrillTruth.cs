using System.Collections.Immutable;
using System.Text;
using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Findings;
using Vanehour.Simulator;

namespace Vanehour.Scoring.Drills;

/// <summary>What is really wrong, how it shows, and how answers are judged: what stays sealed until the reveal.</summary>
public sealed record DrillTruth
{
    /// <summary>The case's name.</summary>
    public required string Case { get; init; }

    /// <summary>The truck.</summary>
    public required string Truck { get; init; }

    /// <summary>What is wrong; null: nothing is.</summary>
    public Cause? Cause { get; init; }

    /// <summary>When it began; null where nothing began.</summary>
    public DateTimeOffset? Onset { get; init; }

    /// <summary>When it was fully grown; null where nothing began.</summary>
    public DateTimeOffset? FullAt { get; init; }

    /// <summary>How severe it then is, above 0, at most 1, on the simulator's own scale; null where nothing began.</summary>
    public double? Severity { get; init; }

    /// <summary>Whether the analysis usually finds it; what it found in this drill is in <see cref="Findings"/>.</summary>
    public required bool Found { get; init; }

    /// <summary>What the charts and the complaint say to one who can read them.</summary>
    public required ImmutableArray<string> TellTales { get; init; }

    /// <summary>The truck before and after, in numbers of this drill.</summary>
    public required ImmutableArray<DrillMeasure> Measures { get; init; }

    /// <summary>Findings open at the end of the data, overdue rounds left out; those on the truck first.</summary>
    public required ImmutableArray<DrillFinding> Findings { get; init; }

    /// <summary>What points elsewhere.</summary>
    public required ImmutableArray<DrillElsewhere> Elsewhere { get; init; }

    /// <summary>Actions that earn all points.</summary>
    public required ImmutableArray<DrillAction> RightActions { get; init; }

    /// <summary>Actions that earn half of them.</summary>
    public required ImmutableArray<DrillAction> AcceptableActions { get; init; }

    /// <summary>The check on the truck that settles it, from the knowledge table.</summary>
    public required string Check { get; init; }

    /// <summary>What to mind with the check.</summary>
    public required string Caution { get; init; }

    /// <summary>The simulator's truth file, line by line.</summary>
    public required ImmutableArray<string> TruthLines { get; init; }

    /// <summary>Draws up the truth of a drill whose data was analysed.</summary>
    /// <param name="drill">The drill's fleet.</param>
    /// <param name="runs">Runs by truck, in order of start.</param>
    /// <param name="findings">Findings open at the end of the data.</param>
    public static DrillTruth Of(DrillFleet drill, IReadOnlyDictionary<string, IReadOnlyList<Run>> runs, IEnumerable<Finding> findings)
    {
        ArgumentNullException.ThrowIfNull(drill);
        ArgumentNullException.ThrowIfNull(runs);
        ArgumentNullException.ThrowIfNull(findings);
        var of = drill.Case;
        var check = Knowledge.Default.Of(of.CheckKind)?.Causes.FirstOrDefault(c => c.Cause == (of.CheckCause ?? of.Cause))
            ?? throw new ArgumentException($"The knowledge table has no check of {of.CheckCause ?? of.Cause} under {of.CheckKind}, which the case {of.Id} asks for.", nameof(drill));
        using var lines = new MemoryStream();
        TruthFile.Write(drill.Fleet.Truth(), lines);
        return new DrillTruth
        {
            Case = of.Id,
            Truck = drill.Truck,
            Cause = of.Cause,
            Onset = drill.Onset,
            FullAt = drill.FullAt,
            Severity = drill.Severity,
            Found = of.Found,
            TellTales = of.TellTales,
            Measures = DrillMeasures.Of(runs, drill.Truck, drill.Onset, drill.FullAt, drill.Fleet.End),
            Findings =
            [
                .. findings.Where(f => f.Truck is not null && f.Kind != FindingKind.RoundOverdue)
                    .OrderBy(f => f.Truck == drill.Truck ? 0 : 1).ThenBy(f => f.Since)
                    .Select(f => new DrillFinding(f.Truck!, f.Kind, f.Since, [.. f.Causes.Select(c => c.Cause).Distinct()])),
            ],
            Elsewhere = of.Elsewhere,
            RightActions = of.RightActions,
            AcceptableActions = of.AcceptableActions,
            Check = check.Check,
            Caution = string.Join(' ', check.Cautions.Select(c => Knowledge.Default.Cautions[c])),
            TruthLines = [.. Encoding.UTF8.GetString(lines.ToArray()).Split('\n', StringSplitOptions.RemoveEmptyEntries)],
        };
    }
}
