using Vanehour.Scoring.Drills;

namespace Vanehour.Host.Output;

/// <summary>A line of a score sheet.</summary>
/// <param name="Folder">The drill's folder, its last name only.</param>
/// <param name="Case">The case.</param>
/// <param name="Difficulty">1 to 3.</param>
/// <param name="Seed">The seed.</param>
/// <param name="Name">Who answered.</param>
/// <param name="Truck">The truck answered.</param>
/// <param name="Cause">The cause answered, or None.</param>
/// <param name="Action">The action answered.</param>
/// <param name="TruckPoints">Points for the truck.</param>
/// <param name="CausePoints">Points for the cause.</param>
/// <param name="ActionPoints">Points for the action.</param>
/// <param name="Total">All points, 0 to 10.</param>
/// <param name="Attempts">Answers given, 1 or more.</param>
/// <param name="AnsweredAt">When the one that counts was given.</param>
/// <param name="Note">What else was said.</param>
public sealed record DrillScoreRow(
    string Folder, string Case, int Difficulty, long Seed, string Name, string Truck, string Cause, DrillAction Action,
    int TruckPoints, int CausePoints, int ActionPoints, int Total, int Attempts, DateTimeOffset AnsweredAt, string? Note)
{
    /// <summary>The columns of the sheet.</summary>
    internal static IReadOnlyList<Column<DrillScoreRow>> Columns { get; } =
    [
        new("folder", "Folder", r => r.Folder, Rank: 5),
        new("case", "Case", r => r.Case, Rank: 3),
        new("difficulty", "Difficulty", r => r.Difficulty, Rank: 6),
        new("seed", "Seed", r => r.Seed, Rank: 4),
        new("name", "Name", r => r.Name),
        new("truck", "Truck", r => r.Truck),
        new("cause", "Cause", r => r.Cause),
        new("action", "Action", r => r.Action.ToString()),
        new("truck_points", "Truck points", r => r.TruckPoints),
        new("cause_points", "Cause points", r => r.CausePoints),
        new("action_points", "Action points", r => r.ActionPoints),
        new("total", "Total", r => r.Total),
        new("attempts", "Attempts", r => r.Attempts, Rank: 1),
        new("answered_at", "Answered", r => r.AnsweredAt, Rank: 2),
        new("note", "Note", r => r.Note, Rank: 7),
    ];

    /// <summary>The lines of a revealed drill, best first.</summary>
    /// <param name="reveal">The drill.</param>
    /// <param name="folder">Its folder.</param>
    public static IReadOnlyList<DrillScoreRow> Of(DrillReveal reveal, string folder)
    {
        ArgumentNullException.ThrowIfNull(reveal);
        ArgumentNullException.ThrowIfNull(folder);
        var name = Path.GetFileName(Path.TrimEndingDirectorySeparator(folder));
        return
        [
            .. reveal.Scores.Select(s => new DrillScoreRow(
                name, reveal.Truth.Case, reveal.Drill.Difficulty, reveal.Drill.Seed, s.Answer.By, s.Answer.Truck, s.Answer.Cause?.ToString() ?? "None", s.Answer.Action,
                s.TruckPoints, s.CausePoints, s.ActionPoints, s.Total, s.Answer.Attempts, s.Answer.At, s.Answer.Note)),
        ];
    }
}
