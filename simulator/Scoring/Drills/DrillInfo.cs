using System.Collections.Immutable;

namespace Vanehour.Scoring.Drills;

/// <summary>What a trainee may know of a drill: the file drill.json.</summary>
public sealed record DrillInfo
{
    /// <summary>A title that names the symptom and no cause.</summary>
    public required string Title { get; init; }

    /// <summary>1 to 3.</summary>
    public required int Difficulty { get; init; }

    /// <summary>The seed: the same one gives a whole class the same drill.</summary>
    public required long Seed { get; init; }

    /// <summary>The end of the data, which is the drill's present.</summary>
    public required DateTimeOffset AsOf { get; init; }

    /// <summary>What the driver said.</summary>
    public required string Complaint { get; init; }

    /// <summary>The truck the driver named; null where none was.</summary>
    public string? ComplainedTruck { get; init; }

    /// <summary>The trucks of the fleet.</summary>
    public required ImmutableArray<string> Trucks { get; init; }

    /// <summary>The answers so far, one a person.</summary>
    public required ImmutableArray<DrillAnswer> Answers { get; init; }

    /// <summary>When the truth was shown; null while it is sealed.</summary>
    public DateTimeOffset? RevealedAt { get; init; }

    /// <summary>Whether the truth was shown.</summary>
    public bool Revealed => RevealedAt is not null;

    /// <summary>What a trainee may know of a drill at its beginning.</summary>
    public static DrillInfo Of(DrillFleet drill)
    {
        ArgumentNullException.ThrowIfNull(drill);
        return new DrillInfo
        {
            Title = drill.Case.Title,
            Difficulty = drill.Case.Difficulty,
            Seed = drill.Seed,
            AsOf = drill.Fleet.End,
            Complaint = drill.Case.Complaint,
            ComplainedTruck = drill.Case.NamesTruck ? drill.Truck : null,
            Trucks = [.. drill.Fleet.Trucks.Select(t => t.Id)],
            Answers = [],
        };
    }
}
