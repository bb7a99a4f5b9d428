using System.Collections.Immutable;
using System.Text.Json;
using Vanehour.Fleet;
using Vanehour.Models.Results;

namespace Vanehour.Models.Rounds;

/// <summary>The table of rounds: which checks there are, how often, on which trucks, what says that they were done. It is the file rounds.json beside this one.</summary>
public sealed record RoundTable
{
    private const string Resource = "Vanehour.Models.Rounds.rounds.json";

    private static readonly Lazy<RoundTable> Read = new(() =>
    {
        using var stream = typeof(RoundTable).Assembly.GetManifestResourceStream(Resource)
            ?? throw new InvalidOperationException($"{Resource} is not in the assembly.");
        return JsonSerializer.Deserialize(stream, ModelsJson.Default.RoundTable)
            ?? throw new InvalidOperationException($"{Resource} is empty.");
    });

    /// <summary>The table that comes with the program.</summary>
    public static RoundTable Default => Read.Value;

    /// <summary>The rounds that a mark may name as a whole; of the checks by hours each is marked alone.</summary>
    public static ImmutableArray<RoundKind> WholeRounds { get; } = [RoundKind.Daily, RoundKind.Weekly, RoundKind.Monthly];

    /// <summary>What the table is.</summary>
    public required string About { get; init; }

    /// <summary>The checks, in the order in which they are listed.</summary>
    public required ImmutableArray<RoundCheck> Checks { get; init; }

    /// <summary>The check of a key; case does not matter. Null where there is none.</summary>
    public RoundCheck? Find(string key) => Checks.FirstOrDefault(c => c.Key.Equals(key, StringComparison.OrdinalIgnoreCase));

    /// <summary>The checks of a truck as its fleet does them. One whose part the register does not tell of is among them.</summary>
    public ImmutableArray<RoundCheck> For(Truck truck, RoundOptions options)
    {
        ArgumentNullException.ThrowIfNull(truck);
        ArgumentNullException.ThrowIfNull(options);
        return [.. Checks.Where(c => c.IsOn(truck) ?? true).Select(options.Apply).OfType<RoundCheck>()];
    }
}
