using System.Collections.Immutable;
using System.Text.Json;
using Vanehour.Fleet;

namespace Vanehour.Scoring.Drills;

/// <summary>The case table: the file cases.json beside this one. Data, not code.</summary>
public sealed record DrillCases
{
    /// <summary>The name that lets the seed choose the case.</summary>
    public const string Random = "random";

    private const string Resource = "Vanehour.Scoring.Drills.cases.json";

    private static readonly Lazy<DrillCases> Read = new(() =>
    {
        using var stream = typeof(DrillCases).Assembly.GetManifestResourceStream(Resource)
            ?? throw new InvalidOperationException($"{Resource} is not in the assembly.");
        return JsonSerializer.Deserialize(stream, DrillsJson.Default.DrillCases)
            ?? throw new InvalidOperationException($"{Resource} is empty.");
    });

    /// <summary>The table that comes with the program.</summary>
    public static DrillCases Default => Read.Value;

    /// <summary>What the table is.</summary>
    public required string About { get; init; }

    /// <summary>Which causes lie in the same part of the machine.</summary>
    public required ImmutableArray<DrillCauseGroup> Groups { get; init; }

    /// <summary>The cases, in order of number; a new one is added at the end, or a class's seed would draw another case.</summary>
    public required ImmutableArray<DrillCase> Cases { get; init; }

    /// <summary>A case by its name; null where there is none.</summary>
    public DrillCase? Find(string id) => Cases.FirstOrDefault(c => string.Equals(c.Id, id, StringComparison.OrdinalIgnoreCase));

    /// <summary>The case that a seed draws: the same for a whole class.</summary>
    /// <param name="difficulty">1 to 3; null draws from all.</param>
    /// <param name="seed">Any number.</param>
    /// <exception cref="ArgumentOutOfRangeException">No case has the difficulty.</exception>
    public DrillCase Draw(int? difficulty, long seed)
    {
        var among = Cases.Where(c => difficulty is null || c.Difficulty == difficulty).ToList();
        ArgumentOutOfRangeException.ThrowIfZero(among.Count, nameof(difficulty));
        return among[new DrillDraw(Random, seed).Whole("case", 0, among.Count - 1)];
    }

    /// <summary>Whether two causes lie in the same part of the machine.</summary>
    public bool SameGroup(Cause one, Cause other) => Groups.Any(g => g.Causes.Contains(one) && g.Causes.Contains(other));
}
